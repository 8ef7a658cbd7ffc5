/** Ranges of 80 % for forecasts, on simulated runners of the model's own kind and of others, and with planted faults. */
import { describe, expect, test } from 'vitest';
import type { Constants } from '../../server/src/model/index.ts';
import { agreement } from './coverageCounts.ts';
import type { Agreement } from './coverageCounts.ts';
import { forecastsFor } from './forecastCoverage.ts';
import type { Group, Question, Told } from './forecastCoverage.ts';

const seed = 7100;

const told = (kind: string, runners: number, constants?: Partial<Constants>): Told[][] =>
  Array.from({ length: runners }, (_, runner) => forecastsFor(kind, seed + runner, constants));

function about(runners: readonly (readonly Told[])[], question: Question, group: Group): Agreement {
  return agreement(runners.map((all) => all.filter((t) => t.question === question && t.group === group)));
}

/** S: 99.9 % band of a binomial share, 3.29 standard errors (any table of the normal distribution). */
const band = ({ ranges, due }: Agreement): number => 3.29 * Math.sqrt((due * (1 - due)) / ranges);

/** S: 99.9 % of Student's t, two-sided, for means over so many runners (any table of it, one degree of freedom less). */
const studentT = { 20: 3.88, 14: 4.22 };

const own = told('own', 20);

describe("the model's own kind", () => {
  test.each([
    ['practiceNow', 'practised'],
    ['practiceNow', 'never tried'],
    ['runNow', 'practised'],
    ['runNow', 'never tried'],
    ['practiceThen', 'practised'],
    ['practiceThen', 'never tried'],
    ['runThen', 'practised'],
    ['runThen', 'never tried'],
    ['gain', 'practised'],
    ['gain', 'never tried'],
  ] as const)('%s, %s: ranges hold as many as they should, and means are right', (question, group) => {
    const found = about(own, question, group);
    expect(found.ranges).toBeGreaterThan(30);
    expect(Math.abs(found.held.mean - found.due)).toBeLessThan(band(found));
    expect(Math.abs(found.bias.mean)).toBeLessThan(studentT[20] * found.bias.error);
  });

  test('ranges half as wide are found out', () => {
    const half = own.map((all) =>
      all.map((t): Told => {
        const middle = (t.low + t.high) / 2;
        return { ...t, low: (t.low + middle) / 2, high: (t.high + middle) / 2 };
      }),
    );
    for (const question of ['practiceNow', 'runNow', 'practiceThen', 'runThen'] as const) {
      const found = about(half, question, 'practised');
      expect(found.held.mean).toBeLessThan(found.due - band(found));
    }
  });

  test('a model that forgets in two weeks what takes half a year is found out', () => {
    const found = about(told('own', 8, { halfLife: 15 }), 'leftAlone', 'practised');
    expect(found.ranges).toBeGreaterThan(15);
    expect(found.below).toBeGreaterThan(0.1 + band(found));
  });

  test('a model that is sure of learning four times as fast is found out', () => {
    // A quarter of the attempts brings as far, and what others take says nothing about the runner. Where it does, two weeks of
    // practice correct such a mistake.
    const fast = { midwayAtEasiest: 0.3 - Math.log(4), offsetSd: 0.01, midwayPerStepSd: 0 };
    const found = about(told('own', 14, fast), 'practiceNow', 'never tried');
    expect(found.bias.mean).toBeGreaterThan(studentT[14] * found.bias.error);
  });
});

/** Bounds of what was measured on 40 and on 14 other runners, with room for chance. Not yet what is wanted: 80 %, and no bias. */
describe('other kinds', () => {
  test('saturating: rates hold; gains of what was never tried are told too high, by less than their size', () => {
    const runners = told('saturating', 12);
    for (const question of ['practiceNow', 'practiceThen', 'runNow', 'runThen'] as const) {
      const found = about(runners, question, 'practised');
      expect(Math.abs(found.held.mean - 0.8)).toBeLessThan(band(found));
    }
    const { bias, meanTruth, held } = about(runners, 'gain', 'never tried');
    expect(held.mean).toBeGreaterThan(0.85);
    expect(bias.mean).toBeGreaterThan(-0.3 * meanTruth);
    expect(bias.mean).toBeLessThan(meanTruth);
  });

  test('plateau: most ranges hold, and what is left alone is not told much too low', () => {
    const runners = told('plateau', 12);
    expect(about(runners, 'gain', 'practised').held.mean).toBeGreaterThan(0.55);
    expect(about(runners, 'practiceThen', 'practised').held.mean).toBeGreaterThan(0.5);
    const alone = about(runners, 'leftAlone', 'practised');
    expect(alone.held.mean).toBeGreaterThan(0.4);
    expect(Math.abs(alone.bias.mean)).toBeLessThan(0.15);
  });

  test('half learned before: rates mostly hold, and fewer than half of the gains are told too low', () => {
    const runners = told('half', 12);
    expect(about(runners, 'practiceNow', 'learned before').held.mean).toBeGreaterThan(0.6);
    const { ranges, below } = about(runners, 'gain', 'learned before');
    expect(ranges).toBeGreaterThan(30);
    expect(below).toBeLessThan(0.5);
  });
});
