import { tokenize, indentStep, type FormatToken } from './formatTokens.ts';
import { isFullyRead } from '../reading/fullyRead.ts';
import { readSource, type Reading } from '../reading/reading.ts';
import { lineEndingOf, lineStart } from './lines.ts';
import { applyEdits, type TextEdit } from './textEdit.ts';
import { toValue } from '../yaml/value.ts';

/**
 * The edits that bring a file into the one style: two spaces a level, lists indented below their key, one space
 * after colons, dashes and commas and inside braces, at most one blank line in a row, one line end at the end, and
 * every line end as the first one is. Comments, quotes, line breaks inside brackets and the order of everything stay.
 * Only space changes. What has been formatted is not changed again.
 *
 * @returns none for a file that cannot be read to its end, or whose meaning an edit could change
 */
export function formatEdits(reading: Reading): TextEdit[] {
  // A lone carriage return ends a line in YAML, but is not counted as a line end here.
  const strange = reading.problems.some(({ code }) => code === 'control-character');
  if (strange || !isFullyRead(reading)) return [];
  const tokens = tokenize(reading.text);
  if (!tokens || tokens.length === 0) return [];
  const edits = new Formatter(reading.text, tokens).edits();
  return preservesMeaning(reading, edits) ? edits : [];
}

/** Whether a file says the same after edits, with no new problem. */
export function preservesMeaning(reading: Reading, edits: readonly TextEdit[]): boolean {
  if (edits.length === 0) return true;
  const after = readSource(reading.kind, applyEdits(reading.text, edits), reading);
  return (
    after.problems.length === reading.problems.length &&
    JSON.stringify(toValue(after.tree)) === JSON.stringify(toValue(reading.tree))
  );
}

/** Works out the edits of the space between and inside tokens. */
class Formatter {
  private readonly text: string;
  private readonly tokens: readonly FormatToken[];
  private readonly eol: string;
  private readonly made: TextEdit[] = [];
  /** Spaces at the beginning of the line being written. */
  private lineIndent = 0;
  /** For each bracket that is open, the spaces before lines inside it. */
  private readonly open: number[] = [];
  /** For each token, the first behind it that is no comment. */
  private readonly nextContent: readonly (FormatToken | undefined)[];

  constructor(text: string, tokens: readonly FormatToken[]) {
    this.text = text;
    this.tokens = tokens;
    this.eol = lineEndingOf(text);
    let next: FormatToken | undefined;
    this.nextContent = tokens
      .toReversed()
      .map((token) => {
        const behind = next;
        if (token.type !== 'comment') next = token;
        return behind;
      })
      .reverse();
  }

  edits(): TextEdit[] {
    let previous: FormatToken | undefined;
    this.tokens.forEach((token, index) => {
      const start = previous ? endOf(previous) : this.text.startsWith('\uFEFF') ? 1 : 0;
      const gap = this.text.slice(start, token.start);
      this.replaceGap(start, gap, this.gap(previous, token, index, gap));
      this.formatInside(token);
      previous = token;
    });
    if (previous && previous.type !== 'block-body') {
      const end = endOf(previous);
      this.replaceGap(end, this.text.slice(end), this.eol);
    }
    return this.made;
  }

  private replaceGap(start: number, old: string, text: string): void {
    if (old === text) return;
    // Line breaks that stay are left out of the edit, so that it lies on the line that it changes.
    let same = 0;
    for (let i = 0; i < old.length && old[i] === text[i]; i++) if (old[i] === '\n') same = i + 1;
    this.made.push({ start: start + same, end: start + old.length, text: text.slice(same) });
  }

  private gap(previous: FormatToken | undefined, token: FormatToken, index: number, gap: string): string {
    const breaks = gap.split('\n').length - 1;
    const begun = !previous || previous.source.endsWith('\n');
    if (!begun && breaks === 0) return spacingBetween(previous, token) ?? gap;
    // The text of a block scalar contains its own line breaks.
    if (token.type === 'block-body') return this.eol;
    const blank = !previous ? 0 : Math.min(begun ? breaks : breaks - 1, 1);
    this.lineIndent =
      this.open.at(-1) ?? (token.type === 'comment' ? this.commentIndent(index) : token.indent);
    return this.eol.repeat(blank + (begun ? 0 : 1)) + ' '.repeat(this.lineIndent);
  }

  /** A comment is indented like the token after it where both stand in the same column, else like its block. */
  private commentIndent(index: number): number {
    const token = this.tokens[index]!;
    const column = this.columnOf(token);
    const next = this.nextContent[index];
    if (next && this.columnOf(next) === column && this.startsLine(next)) return next.indent;
    const around = [...token.levels, ...(this.tokens[index - 1]?.levels ?? [])];
    const fitting = around.filter(({ old }) => old <= column).sort((a, b) => b.old - a.old);
    return fitting[0]?.now ?? next?.indent ?? 0;
  }

  private columnOf({ start }: FormatToken): number {
    return start - lineStart(this.text, start);
  }

  private startsLine({ start }: FormatToken): boolean {
    return this.text.slice(lineStart(this.text, start), start).trim() === '';
  }

  /** Formats inside a token: its line ends, the space before its second and later lines, and behind a comment. */
  private formatInside(token: FormatToken): void {
    for (const { index, 0: lineEnd } of token.source.matchAll(/\r?\n/g))
      this.replaceGap(token.start + index, lineEnd, this.eol);
    const level = token.levels.at(-1);
    if (token.type === 'comment') {
      const end = blankStart(token.source, token.source.length, ' \t');
      this.replaceGap(token.start + end, token.source.slice(end), '');
    } else if (token.type === 'flow-map-start' || token.type === 'flow-seq-start')
      this.open.push(Math.max(this.lineIndent, level?.now ?? 0) + indentStep);
    else if (token.type === 'flow-map-end' || token.type === 'flow-seq-end') this.open.pop();
    else if (token.type === 'block-body' && level) this.reindentBlockScalar(token, level);
    else if (token.source.includes('\n') && level)
      this.reindentContinuation(token, this.open.at(-1) ?? level.now + indentStep);
  }

  /** Lines of a quoted or plain scalar: YAML ignores the space before them. */
  private reindentContinuation({ source, start }: FormatToken, indent: number): void {
    for (const { index, 0: space } of source.matchAll(/(?<=\n)[ \t]+(?=[^\s])|(?<=\n)(?=[^\s])/g))
      this.replaceGap(start + index, space, ' '.repeat(indent));
  }

  /** Lines of a block scalar: their common indentation changes, further space belongs to the text. */
  private reindentBlockScalar(
    { source, start }: FormatToken,
    level: { readonly old: number; readonly now: number },
  ): void {
    const before = blankStart(this.text, start, '\r\n \t');
    const explicit = /[|>][-+]?[1-9]/.test(this.text.slice(lineStart(this.text, before), before));
    const first = /^(?:[ \t]*\r?\n)*( *)[^\s]/.exec(source)?.[1]?.length;
    if (first === undefined) return;
    const old = explicit ? level.old : first;
    const now = explicit ? level.now : level.now + indentStep;
    for (const { index, 0: space } of source.matchAll(/^ +(?=[^\r\n])/gm))
      if (space.length >= old) this.replaceGap(start + index, ' '.repeat(old), ' '.repeat(now));
  }
}

/** Where the characters of `blanks` begin that stand before an offset. */
function blankStart(text: string, offset: number, blanks: string): number {
  let start = offset;
  while (start > 0 && blanks.includes(text[start - 1]!)) start--;
  return start;
}

function endOf({ start, source }: FormatToken): number {
  return start + source.length;
}

/** The space between two tokens on one line; undefined where it is left as it is. */
function spacingBetween({ type: before }: FormatToken, { type: after }: FormatToken): string | undefined {
  if (after === 'comment') return ' ';
  if (before === 'flow-map-start' && after === 'flow-map-end') return '';
  if (before === 'flow-seq-start' || after === 'flow-seq-end' || after === 'comma') return '';
  if (before === 'flow-map-start' || after === 'flow-map-end' || before === 'comma') return ' ';
  if (after === 'map-value-ind') return keys.has(before) ? '' : undefined;
  return before === 'map-value-ind' || before === 'seq-item-ind' || properties.has(before) ? ' ' : undefined;
}

/** Keys behind which a colon needs no space. Behind an alias it does: the colon would belong to its name. */
const keys: ReadonlySet<string> = new Set(['scalar', 'single-quoted-scalar', 'double-quoted-scalar']);

const properties: ReadonlySet<string> = new Set(['anchor', 'tag', 'doc-start']);
