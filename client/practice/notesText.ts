/**
 * The notes of a technique without the marks of Markdown: strong and emphasised words, code and headings. Whatever else
 * is written, HTML and tables among it, stays text as it stands.
 */

/** A piece of notes: text, or pieces that an element holds. */
export type NotePart =
  string | { readonly tag: 'strong' | 'em' | 'code'; readonly parts: readonly NotePart[] };

/** Longer marks first, since the shorter ones begin them. */
const marks = [
  ['**', 'strong'],
  ['__', 'strong'],
  ['*', 'em'],
  ['_', 'em'],
] as const;
/** What ends a mark without closing it: an empty line. */
const emptyLine = /\n[ \t]*\n/;
const heading = /^(#{1,6})[ \t]+(\S.*)$/;
const escapable = '\\`*_#';

/** The pieces of notes, in order. Together they have every letter of the text but the marks. */
export function notesParts(text: string): NotePart[] {
  return text
    .split(emptyLine)
    .flatMap((paragraph, index) => (index === 0 ? [paragraph] : ['\n\n', paragraph]))
    .flatMap((piece) => (piece === '\n\n' ? [piece] : paragraphParts(piece)));
}

function paragraphParts(paragraph: string): NotePart[] {
  const parts: NotePart[] = [];
  let rest: string[] = [];
  const add = (...more: readonly NotePart[]): void => {
    if (parts.length > 0) parts.push('\n');
    parts.push(...more);
  };
  const endText = (): void => {
    if (rest.length > 0) add(...inlineParts(rest.join('\n')));
    rest = [];
  };
  for (const line of paragraph.split('\n')) {
    const found = heading.exec(line);
    if (!found) rest.push(line);
    else {
      endText();
      add({ tag: 'strong', parts: inlineParts(found[2] ?? '') });
    }
  }
  endText();
  return parts;
}

function inlineParts(text: string): NotePart[] {
  const parts: NotePart[] = [];
  let plain = '';
  const close = (): void => {
    if (plain !== '') parts.push(plain);
    plain = '';
  };
  /** The marks that nothing closes any more: looked for once. */
  const unclosed = new Set<string>();
  let at = 0;
  while (at < text.length) {
    const next = text[at + 1];
    if (text[at] === '\\' && next !== undefined && escapable.includes(next)) {
      plain += next;
      at += 2;
      continue;
    }
    const found = codeAt(text, at) ?? markedAt(text, at, unclosed);
    if (found) {
      close();
      parts.push(found.part);
      at = found.end;
    } else {
      plain += text[at];
      at += 1;
    }
  }
  close();
  return parts;
}

interface Found {
  readonly part: NotePart;
  /** The offset behind it. */
  readonly end: number;
}

function codeAt(text: string, at: number): Found | undefined {
  if (text[at] !== '`' || text[at + 1] === '`' || text[at - 1] === '`') return undefined;
  const end = text.indexOf('`', at + 1);
  return end < 0 ? undefined : { part: { tag: 'code', parts: [text.slice(at + 1, end)] }, end: end + 1 };
}

/** What a mark at an offset encloses; a mark inside a word or beside a space encloses nothing, as in 3*4 and a_b. */
function markedAt(text: string, at: number, unclosed: Set<string>): Found | undefined {
  if (isWord(text[at - 1])) return undefined;
  for (const [mark, tag] of marks) {
    if (!text.startsWith(mark, at) || unclosed.has(mark)) continue;
    const start = at + mark.length;
    if (isSpace(text[start]) || text[start] === mark[0]) return undefined;
    const end = closeOf(text, mark, start);
    if (end >= 0)
      return { part: { tag, parts: inlineParts(text.slice(start, end)) }, end: end + mark.length };
    unclosed.add(mark);
  }
  return undefined;
}

/** The offset of the mark that closes one; -1 where there is none. */
function closeOf(text: string, mark: string, start: number): number {
  const [sign] = mark;
  for (let at = text.indexOf(mark, start); at >= 0; at = text.indexOf(mark, at + 1)) {
    const isOther = mark.length === 1 && (text[at + 1] === sign || text[at - 1] === sign);
    if (!isOther && at > start && !isSpace(text[at - 1]) && !isWord(text[at + mark.length])) return at;
  }
  return -1;
}

function isSpace(sign: string | undefined): boolean {
  return sign === undefined || /\s/.test(sign);
}

function isWord(sign: string | undefined): boolean {
  return sign !== undefined && /[\p{L}\p{N}]/u.test(sign);
}
