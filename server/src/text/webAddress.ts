/**
 * Whether a text is an address of the web. Only such addresses are made links of: opening one of any other kind could
 * start a program.
 *
 * @example
 * isWebAddress('https://example.org/crate-vault') // true
 * isWebAddress('file:///etc/passwd') // false
 */
export function isWebAddress(text: string): boolean {
  return /^https?:\/\/[^\s/]+/i.test(text);
}
