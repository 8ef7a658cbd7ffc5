import type { Place } from '../yaml/tree.ts';
import { insertion, type TextEdit } from './textEdit.ts';

/**
 * The edit that puts a word in place of the scalar at a place, in quotes where that had them, or behind a key without a
 * value.
 *
 * @param word as it should stand in the file
 * @returns undefined where a map or a list stands there
 */
export function replaceScalar(text: string, { tree, key, value }: Place, word: string): TextEdit | undefined {
  if (!tree) {
    const colon = key ? text.indexOf(':', key.end) : -1;
    return colon < 0 ? undefined : insertion(colon + 1, ` ${word}`);
  }
  if (tree.type !== 'scalar' && tree.type !== 'alias') return undefined;
  const quote = /^["']/.exec(text.slice(value.start, value.start + 1))?.[0] ?? '';
  return { ...value, text: quote + word + quote };
}
