/** Logs of a technique that hardly lands yet: the rate that is told is the one that was counted. */
import quantile from '@stdlib/stats-base-dists-beta-quantile';
import { expect, test } from 'vitest';
import { assess } from '../../../../server/src/model/index.ts';
import { block, plainOptions, route, segment, technique, use } from '../../../helpers/invented.ts';

/**
 * S: Clopper & Pearson 1934, Biometrika 26: the exact 95 % interval of a binomial share, as quantiles of beta distributions (Brown,
 * Cai & DasGupta 2001, Statistical Science 16), by an independent implementation of the quantile.
 */
function exactInterval(landed: number, tries: number): { readonly low: number; readonly high: number } {
  return {
    low: quantile(0.025, landed, tries - landed + 1),
    high: quantile(0.975, landed + 1, tries - landed),
  };
}

/** What is told of the rate in practice on the morning after evenings with these counts. */
function toldAfter(evenings: readonly (readonly [landed: number, tries: number])[], difficulty: number) {
  const practice = evenings.map(([landed, tries], day) =>
    block('kick', day, landed, tries, { minutes: tries / 4, order: day }),
  );
  return assess({
    route: route([segment('a', 60, [use('kick', 3, 1)])], [technique('kick', { difficulty })]),
    logs: { practice, runs: [] },
    asOfDay: evenings.length,
    options: plainOptions,
  }).get('kick')!.practiceNow;
}

// prettier-ignore
const fiveOf303 = [[1, 43], [0, 43], [1, 43], [1, 44], [1, 43], [1, 43], [0, 44]] as const;

test.each([6, 8, 9, 10])('5 of 303 tries, difficulty %i: told as counted', (difficulty) => {
  const told = toldAfter(fiveOf303, difficulty);
  const exact = exactInterval(5, 303);
  expect(told.mean).toBeGreaterThan(exact.low);
  expect(told.mean).toBeLessThan(Math.min(exact.high, 0.03));
  expect(told.low).toBeLessThan(5 / 303);
  expect(told.high).toBeGreaterThan(5 / 303);
});

test.each([6, 8, 9, 10])('1 of 68 tries, difficulty %i: told as counted', (difficulty) => {
  // prettier-ignore
  const told = toldAfter([[1, 34], [0, 34]], difficulty);
  const exact = exactInterval(1, 68);
  expect(told.mean).toBeGreaterThan(exact.low);
  expect(told.mean).toBeLessThan(0.65 * exact.high);
  expect(told.low).toBeLessThan(1 / 68);
  expect(told.high).toBeGreaterThan(1 / 68);
});
