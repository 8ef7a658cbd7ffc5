import { describe, expect, it } from 'vitest';
import type { LogVocabulary, WritingProblem } from '../../../server/src/logging/logVocabulary.ts';
import { readEvening } from '../../../server/src/logging/readEvening.ts';
import type { WrittenEveningForm } from '../../../server/src/protocol/runLog/writtenRun.ts';

const words: LogVocabulary = {
  techniques: { 'box-jump': 'crate-vault', 'crate-vault': 'crate-vault' },
  segments: ['harbor', 'rope-yard'],
  names: { technique: {}, segment: {} },
  techniquesByName: {},
  segmentsByName: {},
  uses: ['crate-vault@second'],
};
const evening: WrittenEveningForm = {
  date: '2026-10-03',
  runs: '38',
  finished: '',
  minutes: '',
  ended: [],
  tried: [],
  on: '',
};

// The keys are those of the runs file: schemas/runs.schema.json.
describe('an evening in short', () => {
  it.each<[string, Partial<WrittenEveningForm>, object]>([
    ['how many runs', {}, { runs: 38 }],
    [
      'how many finished, also none',
      { finished: ' 0 ', minutes: '120' },
      { minutes: 120, runs: 38, finished: 0 },
    ],
    [
      'where they ended',
      {
        ended: [
          { segment: 'harbor', why: 'reset', runs: '14' },
          { segment: 'harbor', why: 'death', runs: '1' },
          { segment: 'rope-yard', why: 'miss', runs: '0' },
        ],
      },
      { runs: 38, ended: { harbor: { reset: 14, death: 1 } } },
    ],
    [
      'what was tried, under the id of today; one use in two segments is added up',
      {
        tried: [
          { use: 'box-jump', landed: '12', tries: '17' },
          { use: 'crate-vault', landed: '1', tries: '2' },
          { use: 'crate-vault@second', landed: '', tries: '' },
        ],
      },
      { runs: 38, tried: { 'crate-vault': [13, 19] } },
    ],
    ['what it was played on', { on: ' console ' }, { runs: 38, on: 'console' }],
  ])('has %s', (_, written, entry) => {
    expect(readEvening({ ...evening, ...written }, words)).toEqual({
      entry: { date: '2026-10-03', ...entry },
      date: '2026-10-03',
    });
  });

  it.each<[Partial<WrittenEveningForm>, string, Omit<WritingProblem, 'problem'>]>([
    [{ date: '' }, 'a date such as 2026-10-03, not nothing', { part: 'start' }],
    [{ date: '2026-02-30' }, 'not 2026-02-30', { part: 'start' }],
    [{ date: '2026-10-03T19:00' }, 'not 2026-10-03T19:00', { part: 'start' }],
    [{ runs: '' }, 'a whole number such as 38, not nothing', { part: 'runs' }],
    [{ runs: '3.5' }, 'not 3.5', { part: 'runs' }],
    [{ finished: 'two' }, 'not two', { part: 'finished' }],
    [{ minutes: '2000' }, 'at most 1440, not 2000', { part: 'minutes' }],
    [{ finished: '39' }, '38 runs were started, and 39 ended: 39 finished and 0 before the end.', {}],
    [
      { ended: [{ segment: 'harbor', why: 'reset', runs: 'many' }] },
      'ended in harbor: a whole number such as 3',
      { part: 'ended' },
    ],
    [{ ended: [{ segment: 'harbour', why: 'reset', runs: '1' }] }, 'Did you mean harbor?', { part: 'ended' }],
    [
      { tried: [{ use: 'crate-vault', landed: '3', tries: '2' }] },
      '12 of 17, not 3 of 2',
      { part: 'tried', index: 0 },
    ],
    [
      { tried: [{ use: 'crate-vault', landed: '3', tries: '' }] },
      'not 3 of nothing',
      { part: 'tried', index: 0 },
    ],
    [
      { tried: [{ use: 'crate-vult', landed: '3', tries: '3' }] },
      'Did you mean crate-vault?',
      { part: 'tried', index: 0 },
    ],
  ])('is refused as %j', (written, sentence, place) => {
    expect(readEvening({ ...evening, ...written }, words)).toEqual({
      problem: expect.stringContaining(sentence) as string,
      ...place,
    });
  });
});
