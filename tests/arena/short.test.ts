/** The arena in short: a few runners and small routes, so that a ranking that has gone wrong shows in every run of the tests. */
import { beforeAll, expect, test } from 'vitest';
import { following, referenceOf } from './clairvoyant/reference.ts';
import { handRules, policies } from './policies/policies.ts';
import type { MakePolicy } from './policies/policy.ts';
import { leavesBelow, leavesOnlyCompetent } from './policies/setRule.ts';
import { reversedTool, shuffledTool, tool, withSetRule } from './policies/tool.ts';
import { seedOf } from './random.ts';
import { createRunner, simulate } from './simulate.ts';
import type { Runner } from './simulate.ts';
import { summary } from './table.ts';
import { followed } from './task.ts';
import { kinds } from './truth/kinds.ts';

const seed = 7;
const mostTechniques = 20;
const runners: Runner[] = [];
const best: number[] = [];

/** Mean share of the clairvoyant's area under the gain. */
function share(policy: MakePolicy): number {
  return summary(runners.map((runner, i) => simulate(runner, policy).area / best[i]!)).mean;
}

let bestByHand = 0;
let byTool = 0;

beforeAll(() => {
  for (const kind of ['own', 'saturating']) {
    for (let number = 0; number < 3; number++) {
      runners.push(createRunner(kinds[kind]!, seedOf(seed, number), 0, mostTechniques));
    }
  }
  best.push(...runners.map((runner) => referenceOf(runner, []).area));
  byTool = share(tool);
  bestByHand = Math.max(...handRules.map((title) => share(policies[title]!)));
});

/** What a ranking must do to be of use: more than every rule that a runner can follow without it. */
function beatsEveryHandRule(gained: number): boolean {
  return gained > bestByHand;
}

test('following the ranking gains more than every hand rule, and less than knowing every curve', () => {
  expect(beatsEveryHandRule(byTool)).toBe(true);
  expect(byTool).toBeLessThan(1);
});

test('a ranking turned upside down is noticed', () => {
  expect(beatsEveryHandRule(share(reversedTool))).toBe(false);
});

test('a random ranking is noticed', () => {
  expect(beatsEveryHandRule(share(shuffledTool))).toBe(false);
});

/** Exits from the practice set, a runner and week. */
function exits(policy: MakePolicy): number {
  return summary(runners.flatMap((runner) => simulate(runner, policy).exits ?? [])).mean;
}

test('a set that only the competent leave has no other exit, one that the ranking rules anew has some', () => {
  const kept = exits(withSetRule(leavesOnlyCompetent));
  const free = exits(withSetRule(leavesBelow(0.5)));
  expect(kept).toBeLessThan(0.05);
  expect(free).toBeGreaterThan(kept + 0.1);
  expect(exits(policies['the same four until 80 %']!)).toBeLessThan(0.1);
  expect(exits(policies['a random set each session']!)).toBeGreaterThan(free);
});

test('what happens to a runner hangs on the seed alone', () => {
  const again = createRunner(kinds['own']!, seedOf(seed, 0), 0, mostTechniques);
  expect(simulate(again, policies['easiest first']!)).toEqual(
    simulate(runners[0]!, policies['easiest first']!),
  );
});

test('the reference is passed by nobody, and gains more than the true ranking that it begins with', () => {
  const policiesHere = ['this tool', 'the same four until 80 %', 'true rates ranked alike'];
  const runner = createRunner(kinds['plateau']!, seedOf(seed, 1), 0, 9);
  const all = policiesHere.map((title) => followed(runner, policies[title]!));
  const { area } = referenceOf(runner, all);
  for (const { outcome } of all) expect(outcome.area).toBeLessThanOrEqual(area);
  expect(referenceOf(runner, []).area).toBeGreaterThan(
    simulate(runner, policies['true rates ranked alike']!).area,
  );
  // Followed again as a plan made beforehand, what somebody practised comes to the same.
  for (const { plan, outcome } of all)
    expect(simulate(runner, () => following(plan)).area).toBe(outcome.area);
});
