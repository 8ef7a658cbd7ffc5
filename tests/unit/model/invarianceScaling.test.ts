import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { resolveConstants } from '../../../server/src/model/core/constants.ts';
import { expectationInRun, practiceLogits } from '../../../server/src/model/skill/rateEstimates.ts';
import { forecastLevels } from '../../../server/src/model/skill/forecast.ts';
import { readHistory } from '../../../server/src/model/skill/practiceHistory.ts';
import { rank } from '../../../server/src/model/index.ts';
import type { PracticeEntry, RouteModel, SegmentModel } from '../../../server/src/model/index.ts';
import {
  practiceLevel,
  stateOnMorning,
  applyPractice,
} from '../../../server/src/model/skill/practiceState.ts';
import { tabulate } from '../../../server/src/model/core/rateTable.ts';
import { block, plainOptions, route, runTries, segment, technique, use } from '../../helpers/invented.ts';
import { inventRankInput } from '../../helpers/inventedRoutes.ts';
import { inferSkills } from '../../helpers/skills.ts';

/** The same route with every second of the run times a factor; the seconds of practice stay. */
function scaled(of: RouteModel, by: number): RouteModel {
  const segments = of.segments.map((s): SegmentModel => ({
    ...s,
    time: s.time * by,
    spread: s.spread * by,
    luck: s.luck.map((one) => ({ ...one, adds: one.adds * by })),
    uses: s.uses.map((u) => ({
      ...u,
      saves: { mean: u.saves.mean * by, sd: u.saves.sd * by },
      misses: u.misses.map((miss) => ({ ...miss, loses: miss.loses * by })),
      retrySeconds: u.retrySeconds * by,
      costs: u.costs * by,
    })),
  }));
  return { ...of, segments, restart: of.restart * by };
}

test('scaling all seconds of the run, and not those of practice, scales the gains and changes nothing else', () => {
  let compared = 0;
  for (let seed = 0; seed < 25; seed++) {
    const by = [0.02, 0.7, 3, 60][seed % 4]!;
    const input = { ...inventRankInput(seed), options: { ...plainOptions, all: true } };
    const plain = rank(input);
    const other = rank({ ...input, route: scaled(input.route, by) });
    expect(other.skipped).toEqual(plain.skipped);
    expect(other.rows.map((row) => row.technique)).toEqual(plain.rows.map((row) => row.technique));
    other.rows.forEach((row, i) => {
      const same = plain.rows[i]!;
      expect(row.blocks).toBe(same.blocks);
      expect(row.gain / by).toBeCloseTo(same.gain, 8);
      expect(row.gainPerHour / by).toBeCloseTo(same.gainPerHour, 8);
      expect(row.high / by).toBeCloseTo(same.high, 8);
      // Read off in two thousand steps, the lowest of which rounding can move.
      expect(Math.abs(row.low / by - same.low)).toBeLessThanOrEqual(same.high / 2000);
      if (same.breakEven === null) expect(row.breakEven).toBeNull();
      else expect(row.breakEven).toBeCloseTo(same.breakEven, 9);
      expect(row.runThen.mean).toBeCloseTo(same.runThen.mean, 12);
      expect(row.chanceCompetent).toBeCloseTo(same.chanceCompetent, 6);
      expect(row.chanceBest).toBeCloseTo(same.chanceBest, 6);
      if (same.gain > 0.1) compared++;
    });
  }
  expect(compared).toBeGreaterThan(50);
});

const seen = fc.array(
  fc.record({
    day: fc.integer({ min: 0, max: 9 }),
    landed: fc.integer({ min: 0, max: 80 }),
    inRun: fc.boolean(),
  }),
  { maxLength: 6 },
);

/** Logs of one technique from a list of days and counts. */
function logsOf(id: string, entries: readonly { day: number; landed: number; inRun: boolean }[]) {
  const practice: PracticeEntry[] = entries
    .filter(({ inRun }) => !inRun)
    .map(({ day, landed }, order) => block(id, day, landed, 80, { minutes: 10, order }));
  const runs = entries
    .filter(({ inRun }) => inRun)
    .map(({ day, landed }) => runTries(id, day, Math.round(landed / 10), 8));
  return { practice, runs };
}

test('an easier technique is never forecast to land less or save less, whatever others have shown', () => {
  const worth = tabulate((rate) => Math.max(0, rate * 7 - 3), 1e-4);
  fc.assert(
    fc.property(seen, fc.integer({ min: 1, max: 9 }), (entries, easier) => {
      const other = technique('hop', { difficulty: 5 });
      const { practice, runs } = logsOf('hop', entries);
      const forecast = (difficulty: number): number[] => {
        const asked = technique('kick', { difficulty });
        const { posteriors, members, rates, constants } = inferSkills([asked, other], practice, runs);
        const { practised } = forecastLevels(members[0]!.history, 10, 25, constants);
        return Array.from(practised).flatMap((x) => {
          const logits = practiceLogits(posteriors[0]!, x);
          return [rates, worth].map((table) => expectationInRun(posteriors[0]!, logits, table));
        });
      };
      const harder = forecast(easier + 1);
      forecast(easier).forEach((value, i) => {
        expect(value).toBeGreaterThanOrEqual(harder[i]! - 1e-9);
      });
    }),
    { numRuns: 25, seed: 4 },
  );
});

describe.each([0.2, 0])('with an overnight gain of %f, whatever was logged', (overnightGain) => {
  const constants = resolveConstants({ overnightGain });
  const kick = technique('kick');

  /** Level on the morning of day 30 when from day 20 on so many minutes were practised on each day. */
  function levelAfter(practice: readonly PracticeEntry[], minutes: readonly number[]): number {
    let { state } = readHistory(kick, practice, [], constants);
    minutes.forEach((length, i) => {
      if (length > 0) state = applyPractice(state, 20 + i, 10 * length, length, constants).state;
    });
    return practiceLevel(stateOnMorning(state, 20 + minutes.length, constants).effective, constants);
  }
  const history = fc
    .array(fc.integer({ min: 1, max: 400 }), { maxLength: 5 })
    .map((list) => list.map((attempts, day) => block('kick', day, 0, attempts, { minutes: 20 })));
  const hours = fc.integer({ min: 10, max: 240 });

  test('the same practice over two days never counts less than on one of them, read on the same morning', () => {
    fc.assert(
      fc.property(history, hours, (practice, minutes) => {
        const two = levelAfter(practice, [minutes, minutes]);
        expect(two).toBeGreaterThan(levelAfter(practice, [0, 2 * minutes]));
        expect(two).toBeGreaterThan(levelAfter(practice, [2 * minutes, 0]));
      }),
      { seed: 5 },
    );
  });

  test('over more nights it never counts less', () => {
    fc.assert(
      fc.property(history, hours, fc.integer({ min: 2, max: 6 }), (practice, minutes, nights) => {
        const over = (days: number): number =>
          levelAfter(
            practice,
            Array.from({ length: 6 }, (_, i) => (i >= 6 - days ? minutes / days : 0)),
          );
        expect(over(nights)).toBeGreaterThan(over(nights - 1));
      }),
      { seed: 6 },
    );
  });

  test('a longer block never counts less than a shorter one', () => {
    fc.assert(
      fc.property(history, hours, fc.integer({ min: 1, max: 60 }), (practice, minutes, more) => {
        expect(levelAfter(practice, [minutes + more])).toBeGreaterThan(levelAfter(practice, [minutes]));
      }),
      { seed: 7 },
    );
  });
});

test('where nothing is at stake in seconds, nothing is gained', () => {
  const none = route([segment('a', 60, [use('kick', 4, 1)])], [technique('kick')]);
  const input = { logs: { practice: [], runs: [] }, asOfDay: 0, options: plainOptions };
  expect(rank({ ...input, route: scaled(none, 0) }).rows).toEqual([]);
  expect(rank({ ...input, route: none }).rows).toHaveLength(1);
});
