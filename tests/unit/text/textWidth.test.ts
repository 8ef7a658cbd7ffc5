import fc from 'fast-check';
import stringWidth from 'string-width';
import { expect, it, test } from 'vitest';
import { textWidth } from '../../../server/src/text/textWidth.ts';

it.each([
  ['', 0],
  ['Net climb, 20 min', 17],
  ['箱の跳び越え', 12],
  ['\u001b[1mbold\u001b[0m', 4],
  ['e\u0301', 1],
  ['a\tb', 2],
])('%j takes %i columns', (text, columns) => {
  expect(textWidth(text)).toBe(columns);
});

test('of ASCII is what a library says', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary-ascii' }), (text) => {
      expect(textWidth(text)).toBe(stringWidth(text));
    }),
  );
});
