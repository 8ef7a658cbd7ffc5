import { expect, test } from 'vitest';
import { escapeMarkdown } from '../../../server/src/safeText/markdown.ts';

test.each([
  [
    'emphasis, links, code and table cells',
    '*a* _b_ [c](d) `e` | ~~f~~',
    '\\*a\\* \\_b\\_ \\[c\\](d) \\`e\\` \\| \\~\\~f\\~\\~',
  ],
  ['HTML and its character references', '<b> &lt; &#65; A&B', '\\<b\\> \\&lt; \\&#65; A&B'],
  ['a backslash', 'a\\*', 'a\\\\\\*'],
  ['lines and control characters', 'a\n\n# b\u001b[1m', 'a # b \\[1m'],
  ['signs that change nothing inside a line', 'wall-kick (2.5 s), 10 + 1!', 'wall-kick (2.5 s), 10 + 1!'],
])('%s', (_what, text, escaped) => {
  expect(escapeMarkdown(text)).toBe(escaped);
});
