import { expect, it } from 'vitest';
import { shownQuotes } from '../../../server/src/text/shownQuotes.ts';

it.each([
  ['Unknown key `saev`. Did you mean `saves`?', 'Unknown key “saev”. Did you mean “saves”?'],
  ['No quote at all.', 'No quote at all.'],
  ['`a``b`', '“a”“b”'],
  ['', ''],
])('writes %j as %j', (sentence, shown) => {
  expect(shownQuotes(sentence)).toBe(shown);
});

it('leaves a text whose backticks are not in pairs as it is', () => {
  expect(shownQuotes('Unknown key `a`b`.')).toBe('Unknown key `a`b`.');
});
