import { isFullyRead } from '../reading/fullyRead.ts';
import { readSource, type Reading } from '../reading/reading.ts';
import { applyEdit, insertion, lineEnd, quoteIfNeeded, type TextEdit } from './textEdit.ts';
import { entryOf, type Entry, type MapTree } from '../yaml/tree.ts';

/**
 * The smallest edit that makes `section: { key: word }` hold in a file, with comments, order and quoting kept.
 *
 * @param section a top-level key with a map of words; it is added where it is missing
 * @returns undefined where the file is written in a way that no small edit is sure to fit: nothing is then changed
 */
export function setSectionValue(
  reading: Reading,
  section: string,
  key: string,
  word: string,
): TextEdit | undefined {
  if (!isFullyRead(reading)) return undefined;
  const edit = proposeEdit(reading, section, key, word);
  return edit && hasIntendedEffect(reading, edit, section, key, word) ? edit : undefined;
}

function proposeEdit(reading: Reading, section: string, key: string, word: string): TextEdit | undefined {
  const { text, tree } = reading;
  const eol = text.includes('\r\n') ? '\r\n' : '\n';
  const written = `${quoteIfNeeded(key)}: ${word}`;
  const entry = entryOf(tree, section);
  if (!entry)
    return newSection(text, tree, `${section}:${eol}  ${written}`, `${section}: { ${written} }`, eol);
  const { value, shift } = entry;
  if (!value) return insertion(lineEnd(text, entry.key.end + shift), `${eol}  ${written}`);
  if (value.type !== 'map') return undefined;
  const existing = entryOf(value, key);
  if (existing) return replaceWord(text, existing, shift, word);
  const last = value.entries.at(-1);
  if (!last) return { start: value.start + shift, end: value.end + shift, text: `{ ${written} }` };
  const end = (last.value ?? last.key).end + shift + last.shift;
  if (value.flow) return insertion(end, `, ${written}`);
  return insertion(lineEnd(text, end), eol + indentOf(text, value.entries[0]!, shift) + written);
}

function newSection(text: string, tree: MapTree, block: string, flow: string, eol: string): TextEdit {
  const last = tree.entries.at(-1);
  if (tree.flow && last) return insertion((last.value ?? last.key).end + last.shift, `, ${flow}`);
  const newline = text === '' || text.endsWith('\n') ? '' : eol;
  return insertion(text.length, newline + block + eol);
}

/** In place of the word that stands there, in quotes where it had them. */
function replaceWord(
  text: string,
  { key, value, shift }: Entry,
  outer: number,
  word: string,
): TextEdit | undefined {
  const by = shift + outer;
  if (!value) {
    const colon = text.indexOf(':', key.end + by);
    return colon < 0 ? undefined : insertion(colon + 1, ` ${word}`);
  }
  if (value.type !== 'scalar' && value.type !== 'alias') return undefined;
  const start = value.start + by;
  const quote = /^["']/.exec(text.slice(start))?.[0] ?? '';
  return { start, end: value.end + by, text: quote + word + quote };
}

function indentOf(text: string, { key, shift }: Entry, outer: number): string {
  const start = key.start + shift + outer;
  return text.slice(text.lastIndexOf('\n', start - 1) + 1, start).replace(/\S/g, ' ');
}

/** Whether the file read after the edit says the new word and otherwise what it said before. */
function hasIntendedEffect(
  reading: Reading,
  edit: TextEdit,
  section: string,
  key: string,
  word: string,
): boolean {
  const after = readSource(reading.kind, applyEdit(reading.text, edit));
  if (after.problems.length > reading.problems.length) return false;
  const wanted = { ...wordsOf(reading, section), [key]: word };
  return (
    canonical({ ...after.value, [section]: wordsOf(after, section) }) ===
    canonical({ ...reading.value, [section]: wanted })
  );
}

function wordsOf({ value }: Reading, section: string): Record<string, unknown> {
  const words = value[section];
  return typeof words === 'object' && words !== null ? { ...(words as Record<string, unknown>) } : {};
}

/** Equal for equal values, whatever the order of their keys. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1))
      : inner,
  );
}
