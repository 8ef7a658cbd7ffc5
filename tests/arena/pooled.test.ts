/**
 * What a pool says to one more runner, held against simulated runners whose truth is known: how far each technique is from
 * its rating has to lie where the pool says, as often as it says, however much the runners have in common.
 */
import { describe, expect, test } from 'vitest';
import { partsOfOthers, runnerOfRoute, trueDeviations, wordOfParts } from './pooled.ts';
import { seedOf } from './random.ts';

const routes = 20;
const others = 8;

/** 80 % of a normal distribution lie within so many standard deviations. */
const eightyPercent = 1.2816;

/** How many standard deviations the truth lies from what the pool says, for every technique that it tells of. */
function distances(share: number, countedTwice = false): number[] {
  return Array.from({ length: routes }, (_, route) => {
    const routeSeed = seedOf(991, route);
    const { world } = runnerOfRoute(routeSeed, 0, share);
    const parts = partsOnce(routeSeed, share);
    const told = wordOfParts(world, countedTwice ? [...parts, ...parts] : parts);
    const truth = trueDeviations(routeSeed, 0, share, world.skills.length);
    return world.skills.flatMap(({ id }, i) => {
      const word = told.get(id);
      return word === undefined ? [] : [(truth[i]!.midway - word.midway.mean) / word.midway.sd];
    });
  }).flat();
}

const known = new Map<string, ReturnType<typeof partsOfOthers>>();

function partsOnce(routeSeed: number, share: number) {
  const key = `${routeSeed} ${share}`;
  const parts = known.get(key) ?? partsOfOthers(routeSeed, others, share);
  known.set(key, parts);
  return parts;
}

const rootMeanSquare = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

const covered = (values: readonly number[]): number =>
  values.filter((value) => Math.abs(value) < eightyPercent).length / values.length;

describe.each([0, 0.5, 1])('runners who have a share of %d in common', (share) => {
  // About 270 techniques. Those of one route hang together by its runners, so the bands are twice as wide as for as many
  // independent ones (standard errors 0.024 and 0.043).
  test('are as far from what the pool says as it says', () => {
    const from = distances(share);
    expect(from.length).toBeGreaterThan(150);
    expect(Math.abs(covered(from) - 0.8)).toBeLessThan(0.08);
    expect(Math.abs(rootMeanSquare(from) - 1)).toBeLessThan(0.14);
  });
});

test('a pool that is counted twice is found out', () => {
  expect(rootMeanSquare(distances(0.5, true))).toBeGreaterThan(1.14);
  expect(covered(distances(0.5, true))).toBeLessThan(0.75);
});

test('the more runners have in common, the more a pool says', () => {
  const meanSd = (share: number): number => {
    const sds = Array.from({ length: routes }, (_, route) => {
      const routeSeed = seedOf(991, route);
      return [...wordOfParts(runnerOfRoute(routeSeed, 0, share).world, partsOnce(routeSeed, share)).values()];
    })
      .flat()
      .map(({ midway }) => midway.sd);
    return sds.reduce((a, b) => a + b, 0) / sds.length;
  };
  const [none, half, all] = [meanSd(0), meanSd(0.5), meanSd(1)];
  // Without anything in common the prior stays what it was: a standard deviation of 1.
  expect(none).toBeGreaterThan(0.95);
  expect(half).toBeLessThan(none - 0.08);
  expect(all).toBeLessThan(half - 0.15);
});
