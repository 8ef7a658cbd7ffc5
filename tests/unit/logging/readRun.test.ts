import { describe, expect, it } from 'vitest';
import type { LogVocabulary, WritingProblem } from '../../../server/src/logging/logVocabulary.ts';
import { readRun, splitTime, type WrittenRun } from '../../../server/src/logging/readRun.ts';
import { timesInOrder } from '../../../server/src/protocol/runLog/writtenTimes.ts';

const words: LogVocabulary = {
  techniques: { 'box-jump': 'crate-vault', 'crate-vault': 'crate-vault', 'lamp-hop': 'lamp-hop' },
  segments: ['harbor', 'rope-yard'],
  names: { technique: {}, segment: {} },
  techniquesByName: { 'crate vault': ['crate-vault'] },
  segmentsByName: {},
  uses: ['crate-vault@second', 'lamp-hop@second'],
};

/** Times as the editor's form has them, in the order of the route. */
function inOrder(line: string) {
  return timesInOrder(line).flatMap((time, at) =>
    time === '' ? [] : [{ segment: words.segments[at]!, time }],
  );
}

/** Times as the command line has them, each with its segment. */
function named(...parts: string[]) {
  return parts.map((part) => {
    const time = splitTime(part);
    if ('problem' in time) throw new Error(time.problem);
    return time;
  });
}

describe('a run', () => {
  it.each<[string, WrittenRun, object, number]>([
    ['a total', { total: '3:30.5' }, { total: '3:30.5' }, 210.5],
    ['a total in seconds, as a clock shows it', { total: '210.5' }, { total: '3:30.5' }, 210.5],
    ['a short total in seconds', { total: '58.5' }, { total: '58.5' }, 58.5],
    [
      'what was tried, also under a former id and at one of several uses',
      { total: '3:30', tried: ['box-jump=1/2', 'lamp-hop@second=0/1'] },
      { total: '3:30', tried: { 'crate-vault': [1, 2], 'lamp-hop@second': [0, 1] } },
      210,
    ],
    [
      'the sum of what was tried, where a technique is named twice',
      {
        total: '3:30',
        tried: ['box-jump=1/2', 'lamp-hop=0/1', 'crate-vault=0/1'],
        first: ['crate-vault=1/1', 'Crate vault=0/1'],
      },
      {
        total: '3:30',
        tried: { 'crate-vault': [1, 3], 'lamp-hop': [0, 1] },
        first: { 'crate-vault': [1, 2] },
      },
      210,
    ],
    ['where it ended', { ended: 'harbor:reset' }, { ended: { at: 'harbor', why: 'reset' } }, 0],
    [
      'where it ended, and by what',
      { ended: 'rope-yard:miss:lamp-hop' },
      { ended: { at: 'rope-yard', why: 'miss', by: 'lamp-hop' } },
      0,
    ],
    ['what it was done on', { total: '3:30', on: 'emulator' }, { total: '3:30', on: 'emulator' }, 210],
  ])('has %s', (_, written, entry, seconds) => {
    expect(readRun(written, words)).toEqual({ entry, seconds });
  });

  it.each([
    ['1:31.8 2:00', ['harbor=1:31.8', 'rope-yard=2:00'], { harbor: '1:31.8', 'rope-yard': '2:00' }, 211.8],
    ['1:31.8  -', ['harbor=1:31.8'], { harbor: '1:31.8' }, 91.8],
    ['–, 95', ['rope-yard=95'], { 'rope-yard': '1:35.0' }, 95],
  ])('with the times "%s" is the same by its segments', (line, parts, times, seconds) => {
    const entry = { entry: { times }, seconds: expect.closeTo(seconds, 9) as number };
    expect(readRun({ times: inOrder(line) }, words)).toEqual(entry);
    expect(readRun({ times: named(...parts) }, words)).toEqual(entry);
  });

  it.each<[WrittenRun, string, Omit<WritingProblem, 'problem'>]>([
    [{}, 'needs its total', {}],
    [{ tried: ['crate-vault=1/1'] }, 'needs its total', {}],
    [{ total: '3:99' }, 'The total needs a time', { part: 'total' }],
    [{ total: '0' }, 'The total needs a time', { part: 'total' }],
    [{ times: [{ segment: 'harbor', time: 'later' }] }, 'harbor needs a time', { part: 'times', index: 0 }],
    [
      {
        times: [
          { segment: 'harbor', time: '1:30' },
          { segment: 'harbor', time: '1:31' },
        ],
      },
      'one time of harbor, and two are given',
      {},
    ],
    [{ times: [{ segment: 'harbour', time: '1:30' }] }, 'Did you mean harbor?', {}],
    [{ total: '3:30', tried: ['crate-vault=2/1'] }, 'landed and tries', { part: 'tried', index: 0 }],
    [{ total: '3:30', tried: ['crate-vault'] }, 'landed and tries', { part: 'tried', index: 0 }],
    [{ total: '3:30', tried: ['crate-valt=1/1'] }, 'Did you mean crate-vault?', { part: 'tried', index: 0 }],
    [
      { total: '3:30', tried: ['box-jump@secnd=1/1'] },
      'Did you mean crate-vault@second?',
      { part: 'tried', index: 0 },
    ],
    [{ ended: 'harbor:tired' }, 'a segment and why', { part: 'ended' }],
    [{ ended: 'harbor:miss:lamp-hop:again' }, 'a segment and why', { part: 'ended' }],
    [{ ended: 'quay:reset' }, 'no segment quay', { part: 'ended' }],
    [{ ended: 'harbor:miss:lamp-hopp' }, 'Did you mean lamp-hop?', { part: 'ended' }],
  ])('is refused as %j', (written, said, place) => {
    expect(readRun(written, words)).toEqual({ problem: expect.stringContaining(said) as string, ...place });
  });

  it('may have a time of zero in a table', () => {
    expect(readRun({ total: '0' }, words, { table: true })).toEqual({ entry: { total: '0' }, seconds: 0 });
  });
});

it.each(['harbor', 'harbor=1:30=2'])('times are not read from %s', (part) => {
  expect(splitTime(part)).toEqual({ problem: expect.stringContaining(part) as string });
});
