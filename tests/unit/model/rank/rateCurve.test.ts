import { describe, expect, it } from 'vitest';
import { assess } from '../../../../server/src/model/rank/assess.ts';
import { buildRateCurve } from '../../../../server/src/model/rank/rateCurve.ts';
import { rank } from '../../../../server/src/model/rank/rank.ts';
import type { RankInput } from '../../../../server/src/model/run/preparedModel.ts';

const asOfDay = 20;
const input: RankInput = {
  route: {
    segments: [
      {
        id: 'harbor',
        time: 90,
        spread: 1,
        survive: 1,
        luck: [],
        uses: [
          {
            id: 'lamp-clip',
            technique: 'lamp-clip',
            saves: { mean: 6, sd: 0 },
            misses: [{ chance: 1, loses: 4, endsRun: false }],
            retrySeconds: 0,
            maxTries: 1,
            costs: 0,
          },
        ],
      },
    ],
    techniques: [
      { id: 'lamp-clip', difficulty: 5, needs: [], attemptSeconds: 5, reloadSeconds: 3, state: 'learning' },
    ],
    restart: 10,
  },
  logs: {
    practice: [12, 14, 16].map((day, i) => ({
      technique: 'lamp-clip',
      day,
      order: i,
      minutes: 25,
      attempts: 180,
      counted: { landed: 20 + 25 * i, tries: 180 },
    })),
    runs: [{ technique: 'lamp-clip', day: 17, order: 9, counted: { landed: 2, tries: 6 } }],
  },
  asOfDay,
  options: { blockMinutes: 25, confidence: 0.8, all: false },
};
const daily = Array.from({ length: 28 }, (_, i) => ({ day: asOfDay + i, minutes: 25 }));

describe('the curve of a technique', () => {
  const curve = buildRateCurve(input, 'lamp-clip', daily, asOfDay + 28)!;
  const now = curve.points.findLast(({ ahead }) => !ahead)!;

  it('is today what an assessment says', () => {
    const { practiceNow, runNow, breakEven } = assess(input).get('lamp-clip')!;
    expect(now).toEqual({ day: asOfDay, ahead: false, practice: practiceNow, run: runNow });
    expect(curve.breakEven).toBe(breakEven);
    // loses / (saves + loses) where one use can be landed or missed: 4 / 10.
    expect(curve.breakEven).toBeCloseTo(0.4, 3);
  });

  it('goes on from today, and reaches what the ranking says of the same blocks', () => {
    const [first, ...rest] = curve.points.filter(({ ahead }) => ahead);
    expect(first).toEqual({ ...now, ahead: true });
    const row = rank(input).rows[0]!;
    expect(rest[row.blocks - 1]!.run).toEqual(row.runThen);
  });

  it('holds the results of each day and kind as they were counted', () => {
    expect(curve.results.map(({ day, inRun, landed, tries }) => [day, inRun, landed, tries])).toEqual([
      [12, false, 20, 180],
      [14, false, 45, 180],
      [16, false, 70, 180],
      [17, true, 2, 6],
    ]);
  });

  it('was lower before each day of practice than after it', () => {
    const at = (day: number): number => curve.points.find((point) => point.day === day)!.practice.mean;
    expect(at(12)).toBeLessThan(at(13));
    expect(at(14)).toBeLessThan(at(15));
    expect(at(16)).toBeLessThan(at(17));
  });

  it('keeps every range around its mean and within 0 and 1', () => {
    for (const { practice, run } of curve.points) {
      for (const { low, mean, high } of [practice, run]) {
        expect(low).toBeGreaterThan(0);
        expect(low).toBeLessThanOrEqual(mean);
        expect(mean).toBeLessThanOrEqual(high);
        expect(high).toBeLessThan(1);
      }
    }
  });

  it('falls back a little where nothing is planned', () => {
    const idle = buildRateCurve(input, 'lamp-clip', [], asOfDay + 28)!.points.at(-1)!;
    expect(idle.practice.mean).toBeLessThan(now.practice.mean);
    expect(curve.points.at(-1)!.practice.mean).toBeGreaterThan(now.practice.mean);
  });

  it('is not there for a technique that the route has not', () => {
    expect(buildRateCurve(input, 'nope', daily, asOfDay + 28)).toBeUndefined();
  });
});
