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

/**
 * A use as logs name it: by its technique, with its own id where it has one.
 *
 * @example
 * useName('wall-kick', 'second') // 'wall-kick@second'
 */
export function useName(technique: string, id?: string): string {
  return id === undefined ? technique : `${technique}@${id}`;
}

/** Ids of the second and later uses of one technique, in the order in which they are given. */
export const ordinals = [
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
] as const;

/** Letters that Unicode does not divide into a Latin letter and a mark. */
const latin: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  ł: 'l',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  ı: 'i',
};

/**
 * An id out of a name: small Latin letters and digits, hyphens between the words. A name without any of them, or an id that
 * is taken, gets a number behind it.
 *
 * @param name as people read it
 * @param otherwise the word that begins the id of a name without a Latin letter, such as `segment`
 * @param isTaken whether an id is in use
 * @example
 * idFrom('Wächter: 2nd try!', 'technique', () => false) // 'wachter-2nd-try'
 * idFrom('2nd gate', 'segment', () => false) // 'segment-2nd-gate'
 */
export function idFrom(name: string, otherwise: string, isTaken: (id: string) => boolean): string {
  const words = [...name.toLowerCase().normalize('NFKD')]
    .map((letter) => latin[letter] ?? letter)
    .join('')
    // What stands within a word: marks of letters, apostrophes.
    .replace(/[\p{M}'’`´]/gu, '')
    .split(/[^a-z0-9]/)
    .filter((word) => word !== '');
  const parts = /^[a-z]/.test(words[0] ?? '') ? words : [otherwise, ...words];
  const room = longestId - 4;
  const stem = parts.join('-').slice(0, room).replace(/-$/, '');
  if (words.length > 0 && !isTaken(stem)) return stem;
  for (let number = words.length > 0 ? 2 : 1; ; number += 1)
    if (!isTaken(`${stem}-${number}`)) return `${stem}-${number}`;
}
