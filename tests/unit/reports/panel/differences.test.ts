import { describe, expect, it } from 'vitest';
import { differencesView } from '../../../../server/src/reports/panel/differences.ts';

const words = {
  caption: 'C',
  titles: { first: 'A', second: 'B' },
  sides: { less: 'faster', more: 'slower' },
  shorter: 'faster',
  longer: 'slower',
  same: 'the same',
  onlyFirst: 'only A',
  onlySecond: 'only B',
};

/** The chart of segments whose second time is so many seconds from the first. */
const view = (...deltas: number[]) =>
  differencesView(
    deltas.map((delta, i) => ({
      id: String(i),
      name: `S${i}`,
      first: 60,
      second: 60 + delta,
      isTotal: false,
    })),
    words,
  );

describe('the axis of a chart of differences', () => {
  it.each([[[-5.2, 5.8]], [[0.3]], [[4]], [[-13.8, 2]], [[61.3]], [[0.04, -0.02]], [[3600]]])(
    'encloses %j with a tick at either end',
    (deltas) => {
      const { reach, ticks } = view(...deltas);
      const most = Math.max(...deltas.map(Math.abs));
      expect(reach).toBeGreaterThanOrEqual(most - 1e-9);
      expect(ticks[0]!.at).toBeCloseTo(-reach, 9);
      expect(ticks.at(-1)!.at).toBeCloseTo(reach, 9);
      // Not much farther out than the marks: a step at most.
      expect(reach - Math.max(1, most)).toBeLessThan(ticks[1]!.at - ticks[0]!.at + 1e-9);
      expect(ticks.length).toBeLessThanOrEqual(9);
      expect(new Set(ticks.map(({ label }) => label)).size).toBe(ticks.length);
    },
  );

  it('has the marks of the reviewed run on it: 5.8 s on an axis to 6 s', () => {
    const { ticks } = view(-5.2, -2.5, 1.8, -5.8);
    expect(ticks.map(({ label }) => label)).toEqual(['−6 s', '−4 s', '−2 s', '0 s', '+2 s', '+4 s', '+6 s']);
  });
});
