import { describe, expect, it } from 'vitest';
import { describeEntries, describeEntry, describeWhole } from '../../../server/src/logging/describeEntry.ts';

const names = {
  technique: { 'crate-vault': 'Crate vault' },
  segment: { harbor: 'Harbor', 'crate-vault': 'The vault' },
};
const nameOf = (id: string, what: 'technique' | 'segment') =>
  (names[what] as Readonly<Record<string, string>>)[id] ?? id;

describe('an entry in words', () => {
  it.each([
    [{ technique: 'crate-vault', minutes: 25 }, 'Crate vault, 25 min'],
    [{ technique: 'crate-vault', minutes: 12.5, tape: 'lmml' }, 'Crate vault, 12.5 min, 2 of 4 landed'],
    [{ technique: 'lamp-hop', minutes: 5, landed: [0, 3] }, 'lamp-hop, 5 min, 0 of 3 landed'],
    [{ total: '41:30.2' }, 'a run of 41:30.2'],
    [{}, 'a run'],
    [{ ended: { at: 'harbor', why: 'reset' } }, 'a run that ended in Harbor'],
    [{ ended: { at: 'crate-vault', why: 'reset' } }, 'a run that ended in The vault'],
    [
      { total: '3:30', tried: { 'crate-vault': [1, 2], 'crate-vault@second': [0, 1] } },
      'a run of 3:30, Crate vault 1 of 2 landed, Crate vault@second 0 of 1 landed',
    ],
  ])('%j', (entry, words) => {
    expect(describeEntry(entry, nameOf)).toBe(words);
  });

  it('has ids where nobody names them, and nothing that a terminal would obey', () => {
    expect(describeEntry({ technique: 'crate-vault', minutes: 25 })).toBe('crate-vault, 25 min');
    expect(describeEntry({ technique: 'a\u001b[2Jb', minutes: 1 })).not.toContain('\u001b');
    expect(describeEntry({ total: '3:30\u001b[2J' })).not.toContain('\u001b');
  });
});

it.each([
  [
    { technique: 'crate-vault', minutes: 20, seen: [3, 9], on: 'emulator', notes: 'left side' },
    'crate-vault, 20 min; seen 3 of 9; on emulator; notes left side',
  ],
  [
    {
      start: '2026-10-05T20:10',
      total: '3:41',
      times: { harbor: '1:31.8', stairs: '2:05' },
      tried: { hop: [1, 2] },
    },
    'a run of 3:41, hop 1 of 2 landed; times harbor 1:31.8, stairs 2:05',
  ],
  [
    { date: '2026-10-03', runs: 38, finished: 2, minutes: 95, ended: { harbor: { reset: 20, death: 5 } } },
    '38 runs, 2 finished; minutes 95; ended harbor reset 20, death 5',
  ],
])('as a whole, %j', (entry, words) => {
  expect(describeWhole(entry)).toBe(words);
});

it('of many entries names three and counts the rest', () => {
  const entries = Array.from({ length: 5 }, (_, at) => ({ technique: `t-${at}`, minutes: 1 }));
  expect(describeEntries(entries)).toBe('t-0, 1 min; t-1, 1 min; t-2, 1 min; and 2 more entries');
  expect(describeEntries(entries.slice(0, 2))).toBe('t-0, 1 min; t-1, 1 min');
});
