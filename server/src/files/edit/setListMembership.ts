import { isFullyRead } from '../reading/fullyRead.ts';
import { readSource, type Reading } from '../reading/reading.ts';
import { applyEdit, insertion, lineEnd, quoteIfNeeded, type TextEdit } from './textEdit.ts';
import { entryOf, type Entry, type ListTree, type MapTree } from '../yaml/tree.ts';

/**
 * The smallest edit that makes a top-level list of words hold a word, or hold it no longer, with comments, order and
 * quoting kept.
 *
 * @param key a top-level key with a list of words; it is added where it is missing
 * @param listed whether the word is to stand in the list
 * @returns undefined where nothing is to be done or no small edit is sure to fit; {@link listIncludes} tells which
 */
export function setListMembership(
  reading: Reading,
  key: string,
  word: string,
  listed: boolean,
): TextEdit | undefined {
  if (listIncludes(reading, key, word) === listed) return undefined;
  const edits = listed ? additions(reading, key, word) : removals(reading, key, word);
  return edits.find((edit) => hasIntendedEffect(reading, [edit], key, word, listed));
}

/** Whether a top-level list holds a word. */
export function listIncludes({ value }: Reading, key: string, word: string): boolean {
  const list = value[key];
  return Array.isArray(list) && list.includes(word);
}

/** Applies edits that do not overlap, all of them meant for the same text. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  return [...edits].sort((a, b) => b.start - a.start).reduce(applyEdit, text);
}

/** Whether the text after the edits reads without a new problem. */
export function addsNoProblems(reading: Reading, edits: readonly TextEdit[]): boolean {
  return readSource(reading.kind, applyEdits(reading.text, edits)).problems.length <= reading.problems.length;
}

function additions(reading: Reading, key: string, word: string): TextEdit[] {
  const { text, tree } = reading;
  const eol = text.includes('\r\n') ? '\r\n' : '\n';
  const written = quoteIfNeeded(word);
  const entry = entryOf(tree, key);
  if (!entry) return [newList(text, tree, key, written, eol)];
  const { value, shift } = entry;
  if (!value) return [insertion(colonAfter(text, entry) + 1, ` [${written}]`)];
  if (value.type !== 'list') return [];
  const last = value.items.at(-1);
  if (!last?.value) {
    return value.items.length > 0
      ? []
      : [{ start: value.start + shift, end: value.end + shift, text: `[${written}]` }];
  }
  const end = last.value.end + shift + last.shift;
  if (value.flow) return [insertion(end, `, ${written}`)];
  return [insertion(lineEnd(text, end), `${eol}${dashIndent(text, value, shift)}- ${written}`)];
}

function newList(text: string, tree: MapTree, key: string, word: string, eol: string): TextEdit {
  const last = tree.entries.at(-1);
  const written = `${key}: [${word}]`;
  if (tree.flow && last) return insertion((last.value ?? last.key).end + last.shift, `, ${written}`);
  const newline = text === '' || text.endsWith('\n') ? '' : eol;
  return insertion(text.length, `${newline}${written}${eol}`);
}

/** Ways to take an item out, the neatest first. */
function removals({ text, tree }: Reading, key: string, word: string): TextEdit[] {
  const entry = entryOf(tree, key);
  const list = entry?.value;
  if (!entry || list?.type !== 'list') return [];
  const { shift } = entry;
  const at = list.items.findIndex(({ value }) => value?.type === 'scalar' && value.value === word);
  const item = list.items[at];
  if (!item?.value) return [];
  const start = item.value.start + shift + item.shift;
  const end = item.value.end + shift + item.shift;
  if (!list.flow) return blockRemovals(text, list, entry, start, end);
  if (list.items.length === 1) return [{ start, end, text: '' }];
  const next = list.items[at + 1];
  const before = list.items[at - 1];
  // The comma after it goes with it, or for the last the one before.
  if (next?.value) return [{ start, end: next.value.start + shift + next.shift, text: '' }];
  return before?.value ? [{ start: before.value.end + shift + before.shift, end, text: '' }] : [];
}

function blockRemovals(text: string, list: ListTree, entry: Entry, start: number, end: number): TextEdit[] {
  const lineStart = text.lastIndexOf('\n', start - 1) + 1;
  const lineStop = lineEnd(text, end);
  const newline = text.indexOf('\n', lineStop);
  const nextLine = newline < 0 ? text.length : newline + 1;
  const rest = text.slice(end, lineStop);
  const alone = rest.trim() === '';
  const comment = rest.indexOf('#');
  // A comment behind the item stays where it was, on a line of its own.
  const line: TextEdit[] = alone
    ? [{ start: lineStart, end: nextLine, text: '' }]
    : comment >= 0
      ? [{ start: text.lastIndexOf('-', start), end: end + comment, text: '' }]
      : [];
  if (list.items.length > 1) return line;
  const keyEnd = colonAfter(text, entry) + 1;
  const between = text.slice(keyEnd, start).replace(/-\s*$/, '');
  const empty: TextEdit[] =
    between.trim() === '' ? [{ start: keyEnd, end: alone ? lineStop : end, text: ' []' }] : [];
  return [...empty, ...line];
}

function colonAfter(text: string, { key, shift }: Entry): number {
  return text.indexOf(':', key.end + shift);
}

function dashIndent(text: string, { items }: ListTree, shift: number): string {
  const first = items[0];
  const start = (first?.value?.start ?? 0) + shift + (first?.shift ?? 0);
  const line = text.slice(text.lastIndexOf('\n', start - 1) + 1, start);
  return /^[ \t]*/.exec(line)?.[0] ?? '';
}

/** Whether the file read after the edits says what is wanted of the word, and otherwise what it said before. */
function hasIntendedEffect(
  reading: Reading,
  edits: readonly TextEdit[],
  key: string,
  word: string,
  listed: boolean,
): boolean {
  if (!isFullyRead(reading)) return false;
  const after = readSource(reading.kind, applyEdits(reading.text, edits));
  if (after.problems.length > reading.problems.length) return false;
  const rest = wordsOf(reading, key).filter((other) => other !== word);
  const wanted = listed ? [...rest, word] : rest;
  return (
    JSON.stringify(wordsOf(after, key)) === JSON.stringify(wanted) &&
    others(after, key) === others(reading, key)
  );
}

function wordsOf({ value }: Reading, key: string): unknown[] {
  const list = value[key];
  return Array.isArray(list) ? (list as unknown[]) : [];
}

/** All that the file says under its other keys. */
function others({ value }: Reading, key: string): string {
  return JSON.stringify(Object.entries(value).filter(([other]) => other !== key));
}
