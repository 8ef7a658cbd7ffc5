import { sanitizeForTerminal } from './terminal.ts';

// A single tilde is no markup: revisions such as HEAD~2 are read as they are written.
const markup = /[\\`*_[\]<>|]|~(?=~)|(?<=~)~|&(?=#?\w+;)/g;

/** The place at the beginning of a text where a backslash keeps a line from being a heading, a list or a rule. */
const lineStart = /^(?:(?=(?:#{1,6}|[-+])(?:\s|$)|[-=]+\s*$)|\d{1,9}(?=[.)](?:\s|$)))/;

/**
 * A person's text as Markdown text on one line, for what an editor shows: characters that would be read as markup, as
 * HTML or as the end of a table cell are escaped, so that they are shown as they were written. Other characters stay as
 * they are, so that the source can be read as well.
 *
 * @example
 * escapeMarkdown('wall-kick (fast)') // 'wall-kick (fast)'
 * escapeMarkdown('*Lamp* | clip') // '\\*Lamp\\* \\| clip'
 * escapeMarkdown('Q&A &lt;') // 'Q&A \\&lt;'
 * escapeMarkdown('1. Lamp') // '1\\. Lamp'
 */
export function escapeMarkdown(text: string): string {
  return sanitizeForTerminal(text).replace(markup, '\\$&').replace(lineStart, '$&\\');
}

/**
 * The same for Markdown that is pasted into another program. That program may pass HTML on and not know a backslash
 * before it, so `<`, `>` and `&` become character references.
 *
 * @example
 * escapeMarkdownToPaste('<b> & *x*') // '&lt;b&gt; &amp; \\*x\\*'
 */
export function escapeMarkdownToPaste(text: string): string {
  const references: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;' };
  return sanitizeForTerminal(text)
    .replace(/[\\`*_[\]|~<>&]/g, (sign) => references[sign] ?? `\\${sign}`)
    .replace(lineStart, '$&\\');
}

/**
 * A Markdown link. An address that a file's name or a person wrote cannot end the link early.
 *
 * @example
 * markdownLink('a.route.yaml', 'file:///a(1).route.yaml') // '[a.route.yaml](file:///a%281%29.route.yaml)'
 */
export function markdownLink(text: string, address: string): string {
  const target = address
    .replace(/[\s<>\\[\]]/g, encodeURIComponent)
    .replace(/[()]/g, (sign) => (sign === '(' ? '%28' : '%29'));
  return `[${escapeMarkdown(text)}](${target})`;
}
