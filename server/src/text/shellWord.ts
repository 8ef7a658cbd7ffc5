/**
 * A file name or another word as a person can copy it into a shell. Left alone where no shell reads anything into it;
 * else in quotes: single ones for POSIX shells, double ones for the shells of Windows.
 *
 * @param system as Node's `process.platform` says
 * @example
 * shellWord('my route.yaml', 'linux') // "'my route.yaml'"
 */
export function shellWord(word: string, system: string): string {
  if (/^[\p{L}\p{N}_.:/@%+=,-]+$/u.test(word) && !word.startsWith('-')) return word;
  if (system === 'win32') return `"${word.replaceAll('"', '')}"`;
  // A quotation mark of the word ends the quotes, stands for itself, and begins them again (POSIX.1-2017, XCU 2.2).
  return `'${word.replaceAll("'", String.raw`'\''`)}'`;
}
