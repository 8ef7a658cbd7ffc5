/** What the runner who follows the plan of each morning shares with the one who follows the ranking: the same days and members. */
import { expect, test } from 'vitest';
import { ModelCache } from '../../server/src/model/index.ts';
import { freeMinutes } from './policies/planned.ts';
import { createProductRule } from './policies/productRule.ts';
import type { SetMorning, SetRow } from './policies/setRule.ts';
import { rankingOf } from './policies/tool.ts';
import { createRunner, simulate } from './simulate.ts';
import { kinds } from './truth/kinds.ts';
import { createWorld } from './world.ts';

test('a plan looks 28 days ahead from every morning, also from the last one', () => {
  const world = createWorld({ seed: 11, guessOff: 0, knownShare: 0, most: 8 });
  const first = freeMinutes(world, 0);
  const last = freeMinutes(world, world.days.length - 1);
  expect(first).toHaveLength(28);
  expect(last).toHaveLength(28);
  // After the last day the last week comes again, day for day.
  expect(last[0]).toBe(first.at(-1));
  expect(last.slice(1, 8)).toEqual(first.slice(-7));
  expect(last.slice(8, 15)).toEqual(first.slice(-7));
  expect(Math.max(...last)).toBeGreaterThan(0);
});

test('what was learned before the logs and not practised since is no member on the first mornings', () => {
  const runner = createRunner(kinds['half']!, 3, 0, 12);
  let rule: SetMorning | undefined;
  simulate(runner, (world) => ({
    choose: (view) => {
      rule ??= {
        ...rankingOf(world, view, new ModelCache()),
        members: [],
        places: 1,
        lastPractised: () => -1,
      };
      return [];
    },
  }));
  const row = { competent: false, open: true };
  const known: SetRow = { ...row, technique: 'known', rate: 2, standing: 'in-run' };
  const fresh: SetRow = { ...row, technique: 'fresh', rate: 1.9, standing: 'not-begun' };
  // A member of the run would keep the place, since the new technique gains less an hour.
  expect(createProductRule(null).choose({ ...rule!, rows: [known, fresh] })).toEqual(['fresh']);
});
