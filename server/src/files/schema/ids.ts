import { shortened } from '../../text/format.ts';
import { commonSchema } from './schema.ts';

const { pattern, maxLength } = commonSchema('id');
const form = new RegExp(pattern!);

/** The most characters that an id may have. */
export const longestId = maxLength!;

/** Whether a word may be the id of a technique, a segment, a spot or an item. */
export function isId(word: string): boolean {
  return word.length <= longestId && form.test(word);
}

/** A sentence about a word that is no id. */
export function describeInvalidId(word: string): string {
  const wanted =
    word.length > longestId
      ? `an id has at most ${longestId} characters, and this has ${word.length.toLocaleString('en')}`
      : 'lower-case letters, digits and hyphens, a letter first';
  return `\`${shortened(word)}\` is no valid id: ${wanted}.`;
}
