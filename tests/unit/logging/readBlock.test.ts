import { describe, expect, it } from 'vitest';
import {
  blockEntry,
  readBlock,
  splitResult,
  type WrittenBlock,
} from '../../../server/src/logging/readBlock.ts';

/** Seconds from one attempt to the next. */
const cycle = 12;

/** A block as the editor's form has it: minutes, and one field for what was counted. */
function fromForm(minutes: string, result: string) {
  const counted = splitResult(result);
  return 'problem' in counted ? counted : entryOf({ minutes, ...counted });
}

/** A block by its options or columns, each with its own name. */
function entryOf(written: WrittenBlock, table = false) {
  const numbers = readBlock(written, { table });
  return 'problem' in numbers ? numbers : blockEntry('crate-vault', numbers, cycle);
}

describe('a block written in the form, on the command line and in a table', () => {
  it.each([
    ['25', '12/20', { minutes: '25', landed: '12', tries: '20' }, { minutes: 25, landed: [12, 20] }],
    ['25', '12 of 20', { minutes: '25', landed: '12', tries: '20' }, { minutes: 25, landed: [12, 20] }],
    ['25', ' 0 20 ', { minutes: '25', landed: '0', tries: '20' }, { minutes: 25, landed: [0, 20] }],
    ['12:30', 'LMMl', { minutes: '12:30', tape: 'lmml' }, { minutes: 12.5, tape: 'lmml' }],
    ['20.5', '', { minutes: '20.5' }, { minutes: 20.5 }],
  ])('of %s min with "%s" is one entry', (minutes, result, written, says) => {
    const entry = { technique: 'crate-vault', ...says };
    expect(fromForm(minutes, result)).toEqual(entry);
    expect(entryOf(written)).toEqual(entry);
    expect(entryOf(written, true)).toEqual(entry);
  });

  it.each([
    ['0', '', { minutes: '0' }, { part: 'minutes' }],
    ['long', '', { minutes: 'long' }, { part: 'minutes' }],
    ['1441', '', { minutes: '1441' }, { part: 'minutes' }],
    ['25', '21/20', { minutes: '25', landed: '21', tries: '20' }, {}],
  ])('of %s min with "%s" is refused in the same words', (minutes, result, written, place) => {
    const refused = fromForm(minutes, result);
    expect(refused).toEqual({ problem: expect.stringMatching(/^[A-Z].*\.$/) as string, ...place });
    expect(entryOf(written)).toEqual(refused);
  });

  it.each([
    [{ landed: '3' }, 'both numbers', {}],
    [{ tries: '3' }, 'both numbers', {}],
    [{ landed: '-1', tries: '4' }, 'whole numbers', { part: 'landed' }],
    [{ landed: '1.5', tries: '4' }, 'whole numbers', { part: 'landed' }],
    [{ attempts: 'many' }, 'whole numbers', { part: 'attempts' }],
    [{ tape: 'lxm' }, 'one letter an attempt', { part: 'tape' }],
    [{ tape: '' }, 'one letter an attempt', { part: 'tape' }],
    [{ minutes: '' }, 'Minutes are a number', { part: 'minutes' }],
  ])('is refused as %j', (written, words, place) => {
    expect(entryOf(written)).toEqual({ problem: expect.stringContaining(words) as string, ...place });
  });

  it.each(['lx', '-1/4', '3/', 'twelve'])('is refused with "%s" in the field for counts', (result) => {
    expect(splitResult(result)).toEqual({ problem: expect.stringContaining('such as 12/20') as string });
  });
});

describe('a block that nobody timed', () => {
  it.each([
    // 20 × 12 s and 5 × 12 s, in minutes; without attempts the least that is written.
    [{ landed: '12', tries: '20' }, 4],
    [{ tape: 'lmmll' }, 1],
    [{ attempts: '20' }, 4],
    [{}, 0.1],
  ])('of %j lasted its attempts times the cycle', (written, minutes) => {
    expect(entryOf(written)).toMatchObject({ minutes });
  });
});

it('keeps the minutes of a table to the last digit, and its zeros', () => {
  expect(entryOf({ minutes: '12.34' }, true)).toMatchObject({ minutes: 12.34 });
  expect(entryOf({ minutes: '12.34' })).toMatchObject({ minutes: 12.3 });
  expect(entryOf({ minutes: '0' }, true)).toMatchObject({ minutes: 0 });
});

it('writes its keys in one order, with what it was done on last', () => {
  const numbers = readBlock({ minutes: '5', landed: '1', tries: '2', attempts: '2' });
  if ('problem' in numbers) throw new Error(numbers.problem);
  expect(JSON.stringify(blockEntry('crate-vault', numbers, cycle, 'emulator'))).toBe(
    '{"technique":"crate-vault","minutes":5,"landed":[1,2],"attempts":2,"on":"emulator"}',
  );
});
