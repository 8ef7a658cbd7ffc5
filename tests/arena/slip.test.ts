/** Slips and missed evenings: the same for every policy, and mended by practice. */
import { describe, expect, test } from 'vitest';
import { easiest } from './policies/handRules.ts';
import { costliest } from './policies/lookingBack.ts';
import type { MakePolicy } from './policies/policy.ts';
import { seedOf } from './random.ts';
import { createRunner, simulate } from './simulate.ts';
import type { Runner } from './simulate.ts';
import { waitFor } from './table.ts';
import { kinds } from './truth/kinds.ts';
import { afterSlip, slipDepth } from './truth/slip.ts';
import { inRun } from './truth/truth.ts';
import type { Progress } from './truth/truth.ts';
import { days } from './world.ts';
import { worthOf } from './worth.ts';

function runnersOf(kind: string, count: number): Runner[] {
  return Array.from({ length: count }, (_, number) => createRunner(kinds[kind]!, seedOf(5, number), 0, 30));
}

const slipping = runnersOf('slips', 30);

describe('a slip', () => {
  test('befalls a technique of the run, in nearly every runner of that kind and in no other', () => {
    const slips = slipping.flatMap(({ slip, world }) => (slip === null ? [] : [world.skills[slip.skill]!]));
    expect(slips.length).toBeGreaterThan(25);
    expect(slips.every(({ known }) => known)).toBe(true);
    for (const kind of ['own', 'saturating', 'plateau', 'guesses'])
      expect(runnersOf(kind, 5).every(({ slip }) => slip === null)).toBe(true);
  });

  test('takes 30 points of the landing rate, and practice brings them back', () => {
    for (const { slip, truth, start } of slipping) {
      if (slip === null) continue;
      const learning = truth.learnings[slip.skill]!;
      const before = learning.rate(start[slip.skill]!);
      const fallen = afterSlip(learning, start[slip.skill]!);
      const lowest = learning.rate({ ...fallen, gained: 0 });
      // On a curve that jumps the rate cannot fall into the jump.
      expect(learning.rate(fallen)).toBeGreaterThanOrEqual(before - slipDepth - 1e-9);
      expect(learning.rate(fallen)).toBeLessThanOrEqual(Math.max(lowest, before - slipDepth) + 0.01);
      let at = fallen;
      for (let day = 0; day < 60; day++) at = learning.night(learning.practise(at, 300, 25));
      expect(learning.rate(at)).toBeGreaterThan(before - 0.05);
    }
  });

  test('is practised again sooner by a rule that looks at the runs than by the same rule without them', () => {
    const blind: MakePolicy = (world, seed, secret) => {
      const { choose } = costliest(world, seed, secret);
      const known = (skill: number): boolean => world.skills[skill]!.known;
      return {
        choose: (view) =>
          choose({
            ...view,
            logs: { ...view.logs, runs: [] },
            tallies: view.tallies.map((tally, i) => ({ ...tally, inRun: tally.inRun || known(i) })),
          }),
      };
    };
    const wait = (policy: MakePolicy) => waitFor(slipping.map((runner) => simulate(runner, policy)));
    const [looking, not] = [wait(costliest), wait(blind)];
    expect(looking.never).toBeLessThan(0.6);
    expect(not.never).toBeGreaterThan(looking.never + 0.2);
    expect(not.median).toBeGreaterThan(looking.median);
  });

  test('is not counted against one who does nothing, but for the little that runs teach and rest takes', () => {
    const idle: MakePolicy = () => ({ choose: () => [] });
    let counted = 0;
    let lost = 0;
    for (const runner of slipping) {
      const { slip, truth, start, world } = runner;
      if (slip === null) continue;
      const worth = worthOf(world);
      const worthAt = (at: readonly Progress[]) => worth(at.map((p, i) => inRun(truth.learnings[i]!, p)));
      const fallen = start.with(slip.skill, afterSlip(truth.learnings[slip.skill]!, start[slip.skill]!));
      lost += ((worthAt(fallen) - worthAt(start)) * (days - slip.night)) / days;
      counted += simulate({ ...runner, slip: null }, idle).area - simulate(runner, idle).area;
    }
    expect(lost).toBeGreaterThan(5);
    expect(Math.abs(counted)).toBeLessThan(lost / 4);
  });
});

test('some evenings are missed: no practice, no runs, and no policy is asked', () => {
  const evenings = slipping.flatMap(({ world }) => world.days);
  const missed = evenings.filter((day) => day.missed);
  const kept = evenings.filter((day) => day.blocks > 0 || day.runs > 0);
  expect(missed.every(({ blocks, runs }) => blocks === 0 && runs === 0)).toBe(true);
  const share = missed.length / (missed.length + kept.length);
  expect(share).toBeGreaterThan(0.06);
  expect(share).toBeLessThan(0.15);
  for (const runner of slipping.slice(0, 5)) {
    const asked: number[] = [];
    simulate(runner, (world, seed, secret) => {
      const { choose } = easiest(world, seed, secret);
      return {
        choose: (view) => {
          asked.push(view.day);
          return choose(view);
        },
      };
    });
    expect(asked).toEqual(runner.world.days.flatMap(({ blocks }, day) => (blocks > 0 ? [day] : [])));
  }
});
