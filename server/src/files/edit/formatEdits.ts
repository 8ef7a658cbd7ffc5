import { tokenize, indentStep, type FormatToken } from './formatTokens.ts';
import { isFullyRead } from '../reading/fullyRead.ts';
import { readSource, type Reading } from '../reading/reading.ts';
import { lineEndingOf } from './lines.ts';
import { applyEdits, type TextEdit } from './textEdit.ts';
import { toValue } from '../yaml/value.ts';

/**
 * The edits that bring a file into the one style: two spaces a level, lists indented below their key, one space
 * after colons, dashes and commas and inside braces, at most one blank line in a row, one line end at the end.
 * Comments, quotes, line breaks inside brackets and the order of everything stay. Only space changes.
 *
 * @returns none for a file that cannot be read to its end, or whose meaning an edit could change
 */
export function formatEdits(reading: Reading): TextEdit[] {
  // A lone carriage return ends a line in YAML, and in nothing that is counted here.
  const strange = reading.problems.some(({ code }) => code === 'control-character');
  if (strange || !isFullyRead(reading)) return [];
  const atoms = tokenize(reading.text);
  if (!atoms || atoms.length === 0) return [];
  const edits = new Formatter(reading.text, atoms).edits();
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

/** Puts the space between atoms as it should be. */
class Formatter {
  private readonly text: string;
  private readonly atoms: readonly FormatToken[];
  private readonly eol: string;
  private readonly made: TextEdit[] = [];
  /** Spaces at the beginning of the line being written. */
  private lineIndent = 0;
  /** For each bracket that is open, the spaces before lines inside it. */
  private readonly open: number[] = [];

  constructor(text: string, atoms: readonly FormatToken[]) {
    this.text = text;
    this.atoms = atoms;
    this.eol = lineEndingOf(text);
  }

  edits(): TextEdit[] {
    let previous: FormatToken | undefined;
    this.atoms.forEach((atom, index) => {
      const start = previous ? endOf(previous) : this.text.startsWith('\uFEFF') ? 1 : 0;
      const gap = this.text.slice(start, atom.start);
      this.replaceGap(start, gap, this.gap(previous, atom, index, gap));
      this.formatInside(atom);
      previous = atom;
    });
    if (previous && previous.type !== 'block-body') {
      const end = endOf(previous);
      this.replaceGap(end, this.text.slice(end), this.eol);
    }
    return this.made;
  }

  private replaceGap(start: number, old: string, text: string): void {
    if (old === text) return;
    // Line breaks that stay belong to no edit, so that an edit is of the line that it changes.
    let same = 0;
    for (let i = 0; i < old.length && old[i] === text[i]; i++) if (old[i] === '\n') same = i + 1;
    this.made.push({ start: start + same, end: start + old.length, text: text.slice(same) });
  }

  private gap(previous: FormatToken | undefined, atom: FormatToken, index: number, gap: string): string {
    const breaks = gap.split('\n').length - 1;
    const begun = !previous || previous.source.endsWith('\n');
    if (!begun && breaks === 0) return spacingBetween(previous, atom) ?? gap;
    // A text in block form brings its own lines.
    if (atom.type === 'block-body') return this.eol;
    const blank = !previous ? 0 : Math.min(begun ? breaks : breaks - 1, 1);
    this.lineIndent = this.open.at(-1) ?? (atom.type === 'comment' ? this.commentIndent(index) : atom.indent);
    return this.eol.repeat(blank + (begun ? 0 : 1)) + ' '.repeat(this.lineIndent);
  }

  /** A comment goes with what follows it where it stands in the same column, else with the block it stands in. */
  private commentIndent(index: number): number {
    const atom = this.atoms[index]!;
    const column = this.columnOf(atom);
    const next = this.atoms.slice(index + 1).find(({ type }) => type !== 'comment');
    if (next && this.columnOf(next) === column && this.startsLine(next)) return next.indent;
    const around = [...atom.levels, ...(this.atoms[index - 1]?.levels ?? [])];
    const fitting = around.filter(({ old }) => old <= column).sort((a, b) => b.old - a.old);
    return fitting[0]?.now ?? next?.indent ?? 0;
  }

  private columnOf({ start }: FormatToken): number {
    return start - (this.text.lastIndexOf('\n', start - 1) + 1);
  }

  private startsLine({ start }: FormatToken): boolean {
    return this.text.slice(this.text.lastIndexOf('\n', start - 1) + 1, start).trim() === '';
  }

  /** What changes inside an atom: the space before its further lines. */
  private formatInside(atom: FormatToken): void {
    const level = atom.levels.at(-1);
    const trailing = atom.type === 'comment' ? /[ \t]*$/.exec(atom.source)! : undefined;
    if (trailing) this.replaceGap(atom.start + trailing.index, trailing[0], '');
    else if (atom.type === 'flow-map-start' || atom.type === 'flow-seq-start')
      this.open.push(Math.max(this.lineIndent, level?.now ?? 0) + indentStep);
    else if (atom.type === 'flow-map-end' || atom.type === 'flow-seq-end') this.open.pop();
    else if (atom.type === 'block-body' && level) this.reindentBlockScalar(atom, level);
    else if (atom.source.includes('\n') && level)
      this.reindentContinuation(atom, this.open.at(-1) ?? level.now + indentStep);
  }

  /** Lines of a text in quotes, or of a plain one: YAML takes the space before them away. */
  private reindentContinuation({ source, start }: FormatToken, indent: number): void {
    for (const { index, 0: space } of source.matchAll(/(?<=\n)[ \t]+(?=[^\s])|(?<=\n)(?=[^\s])/g))
      this.replaceGap(start + index, space, ' '.repeat(indent));
  }

  /** Lines of a text in block form, of which all but the common indentation counts. */
  private reindentBlockScalar(
    { source, start }: FormatToken,
    level: { readonly old: number; readonly now: number },
  ): void {
    const header = this.text.slice(0, start).trimEnd();
    const line = header.slice(header.lastIndexOf('\n') + 1);
    const explicit = /[|>][-+]?[1-9]/.test(line);
    const first = /^(?:[ \t]*\r?\n)*( *)[^\s]/.exec(source)?.[1]?.length;
    if (first === undefined) return;
    const old = explicit ? level.old : first;
    const now = explicit ? level.now : level.now + indentStep;
    for (const { index, 0: space } of source.matchAll(/^ +(?=[^\r\n])/gm))
      if (space.length >= old) this.replaceGap(start + index, ' '.repeat(old), ' '.repeat(now));
  }
}

function endOf({ start, source }: FormatToken): number {
  return start + source.length;
}

/** The space between two atoms on one line; undefined where it is left as it is. */
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
