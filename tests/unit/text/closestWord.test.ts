import { expect, it } from 'vitest';
import { closestWord, sameStem } from '../../../server/src/text/closestWord.ts';

const words = ['survive', 'spread', 'name', 'time', 'saves', 'loses', 'id'];

it.each([
  ['surive', 'survive'],
  ['Spread', 'spread'],
  ['nmae', 'name'],
  ['tmie', 'time'],
  ['save', 'saves'],
  ['losses', 'loses'],
  ['ie', 'id'],
])('takes %s for %s', (written, meant) => {
  expect(closestWord(written, words)).toBe(meant);
});

it.each(['', 'x', 'difficulty', 'backup', '😀😀'])('finds nothing near %s', (written) => {
  expect(closestWord(written, words)).toBeUndefined();
});

it('takes the first by name where two are as near', () => {
  expect(closestWord('lamp-hog', ['lamp-hot', 'lamp-hop'])).toBe('lamp-hop');
  expect(closestWord('a', [])).toBeUndefined();
});

it.each([
  ['retries', ['retry', 'max_tries'], 'retry'],
  ['Techs', ['techniques', 'time'], 'techniques'],
  ['retries', ['retry', 'retract'], undefined],
  ['ret', ['retry'], undefined],
  ['other', ['retry'], undefined],
])('knows %s among %j by how it begins', (written, known, meant) => {
  expect(sameStem(written, known)).toBe(meant);
});
