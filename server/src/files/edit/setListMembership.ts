import { isFullyRead } from '../reading/fullyRead.ts';
import type { Reading } from '../reading/reading.ts';
import { toValue } from '../yaml/value.ts';
import { yieldsValue } from './intendedEffect.ts';
import { insertItems, wordItem } from './insertItems.ts';
import { removeItems } from './removeItems.ts';
import type { TextEdit } from './textEdit.ts';
import { listLengthAt, scalarTextAt } from './valueAt.ts';

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
  if (!isFullyRead(reading) || listIncludes(reading, key, word) === listed) return undefined;
  const length = listLengthAt(reading, [key]) ?? 0;
  const edit = listed
    ? insertItems(reading, [key], length, [wordItem(word)], 'brackets')
    : removal(reading, key, word, length);
  if (!edit) return undefined;
  const before = toValue(reading.tree) as Readonly<Record<string, unknown>>;
  const others = (Array.isArray(before[key]) ? (before[key] as unknown[]) : []).filter((one) => one !== word);
  const says = (list: unknown) => yieldsValue(reading, [edit], { ...before, [key]: list }, 'all');
  if (listed) return says([...others, word]) ? edit : undefined;
  // A key without a value counts as an empty list.
  return says(others) || (others.length === 0 && says(null)) ? edit : undefined;
}

/** Whether a top-level list holds a word. */
export function listIncludes({ value }: Reading, key: string, word: string): boolean {
  const list = value[key];
  return Array.isArray(list) && list.includes(word);
}

function removal(reading: Reading, key: string, word: string, length: number): TextEdit | undefined {
  const at = Array.from({ length }, (_, index) => scalarTextAt(reading, [key, index])).indexOf(word);
  return at < 0 ? undefined : removeItems(reading, [key], new Set([at]), 'keep')?.[0];
}
