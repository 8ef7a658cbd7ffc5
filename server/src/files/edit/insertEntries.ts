import type { Reading } from '../reading/reading.ts';
import { entryOf } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';
import { yieldsValue } from './intendedEffect.ts';
import { indentBefore, lineBreakAtEnd, lineEnd, lineEndingOf } from './lines.ts';
import { insertion, type TextEdit } from './textEdit.ts';

/** What is put into a map under a key of its own. */
export interface EntryText {
  readonly key: string;
  /** What the entry says, once it is read. */
  readonly value: unknown;
  /** The key and its value on one line, for a map in braces. */
  readonly inline: string;
  /** Lines without the indent of the map; the first begins with the key. */
  readonly lines: readonly string[];
}

/**
 * The edit that puts entries behind those of a map, each with a key that the map does not have.
 *
 * @param section a top-level key with a map; it is added where it is missing
 * @param layout of a map that is `{}`: a line for each key, or all in its braces
 * @returns undefined where the text is written in a way that no edit is sure to fit
 */
export function insertEntries(
  reading: Reading,
  section: string,
  entries: readonly EntryText[],
  layout: 'lines' | 'braces' = 'lines',
): TextEdit | undefined {
  const before = toValue(reading.tree) as Readonly<Record<string, unknown>>;
  const there = (before[section] ?? {}) as Readonly<Record<string, unknown>>;
  if (entries.some(({ key }) => Object.hasOwn(there, key))) return undefined;
  const added = Object.fromEntries(entries.map(({ key, value }) => [key, value]));
  const wanted = { ...before, [section]: { ...there, ...added } };
  return proposals(reading, section, entries, layout).find((edit) => yieldsValue(reading, [edit], wanted));
}

function proposals(
  { text, tree }: Reading,
  section: string,
  entries: readonly EntryText[],
  layout: 'lines' | 'braces',
): TextEdit[] {
  const eol = lineEndingOf(text);
  const inLines = (indent: string): string =>
    entries
      .flatMap(({ lines }) => lines)
      .map((line) => (line === '' ? '' : indent + line))
      .join(eol);
  const inline = entries.map((entry) => entry.inline).join(', ');
  const entry = entryOf(tree, section);
  if (!entry)
    return [insertion(text.length, `${lineBreakAtEnd(text)}${section}:${eol}${inLines('  ')}${eol}`)];
  const { value, shift } = entry;
  const keyEnd = entry.key.end + shift;
  if (!value || (value.type === 'scalar' && value.value === null))
    return [insertion(lineEnd(text, keyEnd), eol + inLines('  '))];
  if (value.type !== 'map') return [];
  const last = value.entries.at(-1);
  if (!last) {
    const end = value.end + shift;
    const rest = text.slice(end, lineEnd(text, end));
    const [colon, inBraces] = [text.indexOf(':', keyEnd) + 1, `{ ${inline} }`];
    // A comment on the key's line stays there.
    return [
      ...(layout === 'lines' && /^[ \t]*(?:#|$)/.test(rest) && colon > 0
        ? [{ start: colon, end: lineEnd(text, end), text: `${rest.trimEnd()}${eol}${inLines('  ')}` }]
        : []),
      { start: value.start + shift, end, text: inBraces },
    ];
  }
  const end = (last.value ?? last.key).end + last.shift + shift;
  if (value.flow) return [insertion(end, `, ${inline}`)];
  const first = value.entries[0]!;
  const indent = indentBefore(text, first.key.start + first.shift + shift);
  // What belongs to the last value may end with line breaks, which a new entry goes before where it can.
  const written = text.slice(0, end).trimEnd().length;
  return [written, end].map((at) => insertion(lineEnd(text, at), eol + inLines(indent)));
}
