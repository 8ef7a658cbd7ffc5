/** Slips: a technique that landed in runs lands less often from a night on, for a reason that no log shows. */
import type { Chance } from '../random.ts';
import type { World } from '../world.ts';
import { breakEvens, worthOf } from '../worth.ts';
import { inRun, progressFor } from './truth.ts';
import type { Learning, Progress, Truth } from './truth.ts';

/** How far the landing rate in practice falls, at most to what someone lands who never practised. */
export const slipDepth = 0.3;

/** Nights in which a slip can happen: runs were seen before it, and there is time to see it and to mend it. */
const earliest = 7;
const latest = 14;

/** Landing rate in practice from which a technique has enough to lose. */
const leastRate = 0.5;

/** Seconds of V that a slip costs at least: one that costs next to nothing is rightly left alone. */
const leastCost = 0.5;

export interface Slip {
  /** Number of the technique. */
  readonly skill: number;
  /** Day, counted from 0, after which it lands less often. */
  readonly night: number;
}

/**
 * The slip of a runner: one of the techniques that were in the run from the first day and pay there. Null where none has enough to
 * lose. It is drawn from the runner alone, so it is the same for every policy.
 */
export function drawSlip(
  world: World,
  { learnings }: Truth,
  start: readonly Progress[],
  random: Chance,
): Slip | null {
  const edges = breakEvens(world);
  const worth = worthOf(world);
  const rate = (i: number): number => learnings[i]!.rate(start[i]!);
  const inRuns = start.map((at, i) => inRun(learnings[i]!, at));
  const cost = (i: number): number =>
    worth(inRuns.with(i, inRun(learnings[i]!, afterSlip(learnings[i]!, start[i]!)))) - worth(inRuns);
  const can = [...world.skills.keys()].filter((i) => {
    const { known, needs } = world.skills[i]!;
    const steady = rate(i) >= leastRate && needs.every((need) => rate(need) >= leastRate);
    return known && steady && inRuns[i]! >= edges[i]! && cost(i) >= leastCost;
  });
  if (can.length === 0) return null;
  return { skill: can[random.whole(0, can.length - 1)]!, night: random.whole(earliest, latest) };
}

/**
 * Where a technique stands after its slip: as far back on its own curve as the rate falls, so that practice brings it
 * back as practice would.
 */
export function afterSlip(learning: Learning, at: Progress): Progress {
  const wanted = learning.rate(at) - slipDepth;
  const gained = progressFor((less) => learning.rate({ ...at, gained: less }), wanted, at.gained);
  return { ...at, gained };
}
