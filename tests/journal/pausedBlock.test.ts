import { expect, test } from 'vitest';
import { decodeLines, encodeLine, type JournalLine } from '../../server/src/journal/journalLines.ts';
import { buildJournalState } from '../../server/src/journal/journalState.ts';

const minute = 60_000;
const local = '2026-10-05T19:30';

/** The minutes of a block of ten minutes by the clock, with an attempt in the third and in the ninth. */
function minutesOf(end: Partial<JournalLine>): unknown {
  const on = { block: 'b-1', technique: 'crate-vault', local };
  const lines: JournalLine[] = [
    { kind: 'start', id: 's', at: 0, ...on },
    { kind: 'attempt', id: 'a-1', at: 3 * minute, ...on, landed: true },
    { kind: 'attempt', id: 'a-2', at: 9 * minute, ...on, landed: false },
    { kind: 'end', id: 'e', at: 10 * minute, block: 'b-1', ...end } as JournalLine,
  ];
  const read = decodeLines(lines.map(encodeLine).join(''));
  expect(read.torn).toEqual([]);
  return buildJournalState([read.lines], 11 * minute).open.find(({ id }) => id === 'b-1')?.entry.minutes;
}

test('a pause is no practice', () => {
  expect(minutesOf({})).toBe(10);
  expect(minutesOf({ paused: 4 * minute })).toBe(6);
});

test('a pause as long as the block leaves the least that a block has', () => {
  expect(minutesOf({ paused: 12 * minute })).toBe(0.1);
});
