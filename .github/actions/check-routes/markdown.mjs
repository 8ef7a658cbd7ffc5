// Text from files and their names, as Markdown that means nothing but its letters.

/**
 * A text on one line, for a sentence or a cell of a table. Every character beyond letters, digits and spaces is written
 * as a character reference: by CommonMark such a reference is never markup, and the names of people and addresses that a
 * code host would link are not recognised. Control characters and those that turn the reading direction become `·`.
 *
 * @param {string} text
 * @returns {string}
 * @example
 * plain('<b>|`') // '&#60;b&#62;&#124;&#96;'
 */
export function plain(text) {
  return text
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu, '·')
    .replace(/[^\p{L}\p{N}\p{M} ·]/gu, (sign) => `&#${sign.codePointAt(0)};`);
}

/**
 * The same, shown as code. An HTML element, because nothing inside `plain` can close it; people who are mentioned in
 * code are not notified.
 *
 * @param {string} text
 * @returns {string}
 */
export function code(text) {
  return `<code>${plain(text)}</code>`;
}

/**
 * Several lines as they are, in a block that is longer fenced than any fence in them.
 *
 * @param {string} text
 * @returns {string}
 */
export function fenced(text) {
  const longest = Math.max(2, ...[...text.matchAll(/`+/g)].map(([ticks]) => ticks.length));
  const fence = '`'.repeat(longest + 1);
  return `${fence}text\n${text.trim()}\n${fence}`;
}

/**
 * What can be opened, under a line that is shown.
 *
 * @param {string} line Markdown of `plain` or `code`
 * @param {string} inside Markdown
 * @returns {string}
 */
export function folded(line, inside) {
  return `<details><summary>${line}</summary>\n\n${inside}\n\n</details>`;
}

/**
 * @param {number} number
 * @param {string} word in the singular
 * @returns {string}
 */
export function count(number, word) {
  return `${number} ${word}${number === 1 ? '' : 's'}`;
}
