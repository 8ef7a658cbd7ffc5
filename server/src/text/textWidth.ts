import stringWidth from 'string-width';

/** Letters and signs of ASCII, which take one column each. */
const plain = /^[ -~]*$/;

/**
 * Columns that a text takes on a terminal, where letters of some scripts take two, and codes for colour none.
 *
 * @example
 * textWidth('箱') // 2
 */
export function textWidth(text: string): number {
  return plain.test(text) ? text.length : stringWidth(text);
}
