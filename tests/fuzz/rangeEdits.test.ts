import { expect, it } from 'vitest';
import { fuzzEdits } from './rangeEdits.ts';

// Only to end what waits for ever.
const HOUR = 3_600_000;

it(
  'a server that was edited and interrupted says what a fresh one says',
  async () => {
    const result = await fuzzEdits({ seed: 20_262, edits: 150 });
    expect(result.failures).toEqual([]);
    expect(result.comparisons).toBe(6);
    expect(result.cancelled).toBeGreaterThan(40);
  },
  HOUR,
);

it(
  'a server that misses an edit is found',
  async () => {
    const { failures } = await fuzzEdits({ seed: 20_262, edits: 100, lost: 0.2 });
    expect(failures.map(({ what }) => what)).toContain('edited and fresh');
  },
  HOUR,
);
