import { describe, expect, test } from 'vitest';
import { breakdown } from '../../../../server/src/model/run/breakdown.ts';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import { practiceSpread } from '../../../../server/src/model/review/practiceSpread.ts';
import { oddsFromLogs } from '../../../../server/src/model/run/oddsFromLogs.ts';
import { paceAtCycle } from '../../../../server/src/model/rank/cycleAlternative.ts';
import { reviewWeek, reviewRules } from '../../../../server/src/model/review/reviewWeek.ts';
import type { Logs, TechniqueModel } from '../../../../server/src/model/core/types.ts';
import {
  block,
  largeCase,
  plainOptions,
  route,
  runTries,
  segment,
  technique,
  use,
} from '../../../helpers/invented.ts';

/** A route of these techniques, each saving 4 s and losing 2 s in a segment of its own. */
function reviewOf(techniques: TechniqueModel[], logs: Logs, asOfDay = 14) {
  const segments = techniques.map(({ id }) => segment(`s-${id}`, 60, [use(id, 4, 2)]));
  const found = reviewWeek({ route: route(segments, techniques), logs, asOfDay, options: plainOptions });
  return { ...found, of: (id: string) => found.techniques.find((one) => one.technique === id)! };
}

/** Blocks of one technique, `landed` of 150 in 25 min each. */
const blocks = (of: string, days: readonly number[], landed: number) =>
  days.map((day, i) => block(of, day, landed, 150, { minutes: 25, order: i }));

describe('the verdicts of a review', () => {
  test('untried: nothing at all is logged', () => {
    const { of } = reviewOf([technique('a'), technique('b')], { practice: blocks('a', [10], 60), runs: [] });
    expect(of('b').verdict).toBe('untried');
    expect(of('a').verdict).not.toBe('untried');
  });

  test('competent: now, and whether it was before the week', () => {
    const logs = { practice: [...blocks('a', [3], 15), ...blocks('a', [8, 9, 10, 11, 12], 120)], runs: [] };
    const { of, confidence } = reviewOf([technique('a')], logs);
    expect(of('a').verdict).toBe('competent');
    expect(of('a').competentBefore).toBeLessThan(confidence);
    expect(of('a').competentNow).toBeGreaterThanOrEqual(confidence);
    expect(of('a').trend).toBeGreaterThan(0.1);
  });

  test('past its use: long competent, practised on, where something else waits; not where nothing does', () => {
    const days = Array.from({ length: 20 }, (_, i) => i - 6);
    const practice = blocks('a', days, 148);
    const waiting = technique('b', { difficulty: 1 });
    const { of, best } = reviewOf([technique('a'), waiting], { practice, runs: [] });
    expect(best?.technique).toBe('b');
    expect(of('a').verdict).toBe('overPractised');
    expect(of('a').practised!.gainedPerHour).toBeLessThan(reviewRules.negligible * best!.gainPerHour);
    expect(reviewOf([technique('a')], { practice, runs: [] }).of('a').verdict).toBe('competent');
    // Left alone for the week, nothing was practised past its use.
    const rested = reviewOf([technique('a'), waiting], {
      practice: blocks(
        'a',
        days.filter((d) => d < 7),
        148,
      ),
      runs: [],
    });
    expect(rested.of('a').verdict).toBe('competent');
  });

  test('few days: crammed into one where others had practice; not where the same was spread', () => {
    const others = blocks('b', [8, 9, 10, 11], 40);
    const crammed = reviewOf([technique('a', { difficulty: 8 }), technique('b')], {
      practice: [...blocks('a', [10, 10, 10, 10], 3), ...others],
      runs: [],
    });
    expect(crammed.of('a').verdict).toBe('tooFewDays');
    expect(crammed.of('a').practised).toMatchObject({ blocks: 4, days: 1, possibleDays: 4, minutes: 100 });
    const spread = reviewOf([technique('a', { difficulty: 8 }), technique('b')], {
      practice: [...blocks('a', [8, 9, 10, 11], 3), ...others],
      runs: [],
    });
    expect(spread.of('a').verdict).toBe('steady');
  });

  test('crowded practice of a technique in the run is told as a fact, and its verdict stays what it stands for', () => {
    const others = blocks('b', [8, 9, 10, 11], 40);
    const { of } = reviewOf([technique('a'), technique('b')], {
      practice: [...blocks('a', [10, 10, 10, 10], 145), ...others],
      runs: [],
    });
    expect(of('a').standing.kind).toBe('in-run');
    expect(of('a').practised).toMatchObject({ crowded: true });
    expect(['competent', 'overPractised']).toContain(of('a').verdict);
  });

  test('a chance, a break-even and a standing are those of the standings', () => {
    const { of, standings } = reviewOf([technique('a'), technique('b')], {
      practice: blocks('a', [8, 9, 10], 70),
      runs: [],
    });
    for (const standing of standings) {
      const { chancePays, breakEven } = standing;
      expect(of(standing.technique)).toMatchObject({ standing, competentNow: chancePays, breakEven });
    }
  });

  test('a slip outweighs everything else', () => {
    const runs = [0, 1, 2, 3, 4, 5].flatMap((day) => [runTries('a', day, 18, 20)]);
    const { of } = reviewOf([technique('a', { state: 'in-run' })], {
      practice: blocks('a', [8, 9], 140),
      runs: [...runs, runTries('a', 12, 3, 20)],
    });
    expect(of('a').verdict).toBe('slipped');
    expect(of('a').slip).toMatchObject({
      week: { landed: 3, tries: 20 },
      earlier: { landed: 108, tries: 120 },
    });
  });

  test('a difficulty that was far off is seen for what it is', () => {
    const hard = { practice: blocks('a', [1, 2, 3, 4, 5, 6, 8, 9, 10, 11], 1), runs: [] };
    expect(reviewOf([technique('a', { difficulty: 1 })], hard).of('a').harder!.mean).toBeGreaterThan(2);
    // Landing from the first day on, it may have been known before: nothing is said.
    const known = { practice: blocks('a', [8, 9], 140), runs: [] };
    expect(reviewOf([technique('a', { difficulty: 9 })], known).of('a').harder).toBeNull();
  });

  test('entries after the morning asked about do not count', () => {
    const logs = { practice: blocks('a', [8, 9], 60), runs: [] };
    const later = {
      practice: [...logs.practice, ...blocks('a', [20, 21], 150)],
      runs: [runTries('a', 30, 0, 50)],
    };
    expect(reviewOf([technique('a')], later)).toMatchObject({
      techniques: reviewOf([technique('a')], logs).techniques,
    });
  });
});

describe('what crowding costs', () => {
  test('is the dose of one long day against the same on several', () => {
    const entries = [0, 1, 2, 3].map((order) => block('a', 5, 0, 100, { minutes: 25, order }));
    const { wouldCount } = practiceSpread(entries, 7, 4, defaultConstants);
    // By hand: (1 − e^−x)/x at x = 25/207 is 0.9420, at 100/207 it is 0.7931; 0.9420/0.7931 − 1 = 0.1878.
    expect(wouldCount).toBeCloseTo(0.1878, 3);
    expect(practiceSpread(entries, 1, 4, defaultConstants).wouldCount).toBe(0);
    expect(practiceSpread([], 3, 4, defaultConstants)).toMatchObject({ blocks: 0, days: 0, wouldCount: 0 });
  });
});

describe('a run taken apart', () => {
  test('adds up to the expected final time', () => {
    const { route: whole, logs } = largeCase(24, 60, 5);
    const input = { route: whole, logs, asOfDay: 60, options: plainOptions };
    const parts = breakdown(input, []);
    const sum = parts.segments.reduce((total, { seconds }) => total + seconds, 0);
    const { finalTime } = oddsFromLogs(input, { target: null, ratesKnown: true, step: 0.05 });
    expect(sum).toBeCloseTo(finalTime, 1);
    for (const { seconds } of parts.techniques) expect(seconds).toBeGreaterThan(0);
  });

  test('gives a technique what its landing and its misses are worth', () => {
    const techniques = [technique('a', { state: 'in-run' })];
    const input = {
      route: route([segment('s', 60, [use('a', 4, 2)])], techniques),
      logs: { practice: [], runs: [runTries('a', 1, 90, 100), runTries('a', 2, 90, 100)] },
      asOfDay: 3,
      options: plainOptions,
    };
    const rate = reviewWeek(input).techniques[0]!.run.mean;
    // By hand: p · 4 − (1 − p) · 2 seconds off a run.
    expect(breakdown(input, []).techniques[0]!.seconds).toBeCloseTo(rate * 4 - (1 - rate) * 2, 3);
    expect(breakdown(input, []).segments[0]!.seconds).toBeCloseTo(60 - rate * 4 + (1 - rate) * 2, 3);
  });
});

describe('the pace at another cycle', () => {
  const model = technique('a', { attemptSeconds: 8, reloadSeconds: 2 });
  test('keeps what is lost beside the cycle, and scales a pace that is faster than it', () => {
    // One attempt in 12 s at a cycle of 10: 2 s beside it. At 4 s an attempt then takes 6 s: 10 a minute.
    expect(paceAtCycle(5, model, 4)).toBeCloseTo(10, 9);
    // One in 8 s, faster than the cycle says: at half the cycle, twice as many.
    expect(paceAtCycle(7.5, model, 5)).toBeCloseTo(15, 9);
    expect(paceAtCycle(6, model, 10)).toBeCloseTo(6, 9);
  });
});
