/**
 * A sentence with “ ” around what is written in files, in place of the backticks of our texts: for places that show texts
 * as they are, where a backtick is only a stray mark.
 *
 * @example
 * shownQuotes('Change to `crate-vault`') // 'Change to “crate-vault”'
 */
export function shownQuotes(sentence: string): string {
  const parts = sentence.split('`');
  // An odd backtick is no quote: it belongs to a text that was quoted.
  if (parts.length % 2 === 0) return sentence;
  return parts.map((part, i) => (i === 0 ? part : (i % 2 === 1 ? '“' : '”') + part)).join('');
}
