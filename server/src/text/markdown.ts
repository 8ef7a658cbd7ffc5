import { sanitizeForTerminal } from './terminalText.ts';

// A single tilde is no markup: revisions such as HEAD~2 are read as they are written.
const markup = /[\\`*_[\]<>|]|~(?=~)|(?<=~)~|&(?=#?\w+;)/g;

/**
 * A person's text as Markdown text on one line: characters that would be read as markup, as HTML or as the end of a
 * table cell are escaped, so that they are shown as they were written. Other characters stay as they are, so that the
 * source can be read as well. Not for the beginning of a line, where `#`, `-` and `1.` are markup, too.
 *
 * @example
 * escapeMarkdown('wall-kick (fast)') // 'wall-kick (fast)'
 * escapeMarkdown('*Lamp* | clip') // '\\*Lamp\\* \\| clip'
 * escapeMarkdown('Q&A &lt;') // 'Q&A \\&lt;'
 */
export function escapeMarkdown(text: string): string {
  return sanitizeForTerminal(text).replace(markup, '\\$&');
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
  return sanitizeForTerminal(text).replace(/[\\`*_[\]|~<>&]/g, (sign) => references[sign] ?? `\\${sign}`);
}
