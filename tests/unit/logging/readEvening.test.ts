import { describe, expect, it } from 'vitest';
import type { LogVocabulary } from '../../../server/src/logging/logVocabulary.ts';
import { readEvening } from '../../../server/src/logging/readEvening.ts';
import type { WrittenEveningForm } from '../../../server/src/protocol/runLog/writtenRun.ts';

const words: LogVocabulary = {
  techniques: { 'box-jump': 'crate-vault', 'crate-vault': 'crate-vault' },
  segments: ['harbor', 'rope-yard'],
  techniquesByName: {},
  segmentsByName: {},
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

  it.each<[Partial<WrittenEveningForm>, string]>([
    [{ date: '' }, 'a date such as 2026-10-03, not nothing'],
    [{ date: '2026-02-30' }, 'not 2026-02-30'],
    [{ date: '2026-10-03T19:00' }, 'not 2026-10-03T19:00'],
    [{ runs: '' }, 'a whole number such as 38, not nothing'],
    [{ runs: '3.5' }, 'not 3.5'],
    [{ finished: 'two' }, 'not two'],
    [{ minutes: '2000' }, 'at most 1440, not 2000'],
    [{ finished: '39' }, '38 runs were started, and 39 ended: 39 finished and 0 before the end.'],
    [
      { ended: [{ segment: 'harbor', why: 'reset', runs: 'many' }] },
      'ended in harbor is a whole number such as 3',
    ],
    [{ ended: [{ segment: 'harbour', why: 'reset', runs: '1' }] }, 'Did you mean harbor?'],
    [{ tried: [{ use: 'crate-vault', landed: '3', tries: '2' }] }, '12 of 17, not 3 of 2'],
    [{ tried: [{ use: 'crate-vault', landed: '3', tries: '' }] }, 'not 3 of nothing'],
    [{ tried: [{ use: 'crate-vult', landed: '3', tries: '3' }] }, 'Did you mean crate-vault?'],
  ])('is refused as %j', (written, sentence) => {
    expect(readEvening({ ...evening, ...written }, words)).toEqual({
      problem: expect.stringContaining(sentence) as string,
    });
  });
});
