import { describe, expect, test } from 'vitest';
import { addInterpolatedPoints } from '../../../../server/src/model/skill/countLikelihood.ts';
import { CountTables } from '../../../../server/src/model/skill/countTables.ts';
import { mostOfDays, mostOfEach } from '../../../../server/src/model/skill/mostOfDays.ts';
import type { CountsAtLevel } from '../../../../server/src/model/skill/mostOfDays.ts';
import { chance } from '../../../arena/random.ts';

const tables = new CountTables({ concentration: 40, rateFloor: 0.001 });

const day = (level: number, landed: number, tries: number): CountsAtLevel => ({
  readings: [{ level, tries }],
  table: tables.of(landed, tries),
});

/** What days add up to at log odds of the rate, one for each day in rising order of level. */
function sumAt(days: readonly CountsAtLevel[], logits: readonly number[]): number {
  const sum = new Float64Array(1);
  days.forEach(({ table }, i) => addInterpolatedPoints(table, Float64Array.of(logits[i]!), sum));
  return sum[0]!;
}

describe('the most that days can add', () => {
  test('is that of the rates counted, where they rise with the level', () => {
    const days = [day(3, 18, 20), day(1, 4, 20), day(2, 10, 20)];
    expect(mostOfDays(days)).toBeGreaterThanOrEqual(mostOfEach(days));
    expect(mostOfDays(days) - mostOfEach(days)).toBeLessThan(0.05);
  });

  test('is less than what each could add, where more landed at a lower level', () => {
    const days = [day(1, 18, 20), day(2, 4, 20)];
    // One rate for both is then the best: 22 of 40.
    const both = (x: number): number => sumAt(days, [x, x]);
    const best = Math.max(...Array.from({ length: 400 }, (_, i) => both((i - 200) / 50)));
    expect(mostOfDays(days)).toBeGreaterThanOrEqual(best);
    expect(mostOfDays(days) - best).toBeLessThan(0.05);
    expect(mostOfDays(days)).toBeLessThan(mostOfEach(days) - 5);
  });

  test('bounds each day by itself where its tries were at several levels', () => {
    const mixed: CountsAtLevel = {
      ...day(1, 18, 20),
      readings: [
        { level: 1, tries: 10 },
        { level: 4, tries: 10 },
      ],
    };
    expect(mostOfDays([mixed, day(2, 4, 20)])).toBeGreaterThanOrEqual(mostOfEach([mixed, day(2, 4, 20)]));
  });

  test('is nothing without days', () => {
    expect(mostOfDays([])).toBe(0);
  });

  test('no curve passes it', () => {
    const { next: random } = chance(611);
    for (let round = 0; round < 300; round++) {
      const days = Array.from({ length: 1 + Math.floor(random() * 12) }, () => {
        const tries = 1 + Math.floor(random() * 200);
        return day(random() * 5, Math.floor(random() * (tries + 1)), tries);
      }).sort((a, b) => a.readings[0]!.level - b.readings[0]!.level);
      const most = mostOfDays(days);
      for (let curve = 0; curve < 200; curve++) {
        const logits = days.map(() => (random() - 0.5) * 10).sort((a, b) => a - b);
        // Half of the curves come near to what was counted.
        if (curve % 2 === 0) logits.fill((random() - 0.5) * 4);
        expect(sumAt(days, logits)).toBeLessThanOrEqual(most + 1e-9);
      }
    }
  });
});
