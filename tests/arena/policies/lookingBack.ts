/** What good runners do by hand: a small set that is kept, and a look back at the last week's runs. */
import { firstDay } from '../world.ts';
import type { World } from '../world.ts';
import { inOrder, judgeOf, learnedBy, needFirst } from './handRules.ts';
import { lastWeekOf, secondsOfAMiss } from './lastWeek.ts';
import { fill, longestWaitingFirst } from './policy.ts';
import type { MakePolicy, Tally, View } from './policy.ts';
import { savedNow } from './savedNow.ts';

/** Techniques in the kept set, and the landed share of the last two blocks at which one has done its time. */
const places = 4;
const enough = 0.8;

/** Landed share of the last two blocks since block number `since`; null while there are fewer. */
function lastTwoBlocks({ blocks }: Tally, since: number): number | null {
  if (blocks.length - since < 2) return null;
  const [a, b] = blocks.slice(-2);
  return (a!.landed + b!.landed) / (a!.tries + b!.tries);
}

/**
 * The same four with the best save per difficulty. Whoever landed 80 % in the last two blocks since it came in makes room: for
 * what missed most in the last week's runs (since its own last practice, and landing under 80 % there), and without such a one for the
 * next best. A short evening takes those that have waited longest.
 */
export const sameFour: MakePolicy = (world) => {
  /** Members, with the number of blocks each had when it came in. */
  const members = new Map<number, number>();
  const finished = new Set<number>();

  const candidates = (view: View): number[] => {
    const runs = lastWeekOf(world, view);
    const missing = [...world.skills.keys()].filter((i) => {
      const { landed, missed, lastDay } = runs[i]!;
      return missed > 0 && landed / (landed + missed) < enough && lastDay >= view.tallies[i]!.lastDay;
    });
    missing.sort((a, b) => runs[b]!.missed - runs[a]!.missed || a - b);
    const learned = (i: number): boolean => finished.has(i) || view.tallies[i]!.inRun;
    const saves = savedNow(world, view, learned);
    const perDifficulty = world.skills.map(({ written }, i) => saves(i) / written);
    const next = [...world.skills.keys()].filter((i) => !learned(i) && perDifficulty[i]! > 0);
    next.sort((a, b) => perDifficulty[b]! - perDifficulty[a]! || a - b);
    return [...missing, ...next].map((i) => needFirst(world, i, view));
  };
  const choose = (view: View): number[] => {
    for (const [i, since] of members) {
      if ((lastTwoBlocks(view.tallies[i]!, since) ?? 0) < enough) continue;
      members.delete(i);
      finished.add(i);
    }
    for (const i of candidates(view)) {
      if (members.size >= places) break;
      if (members.has(i)) continue;
      members.set(i, view.tallies[i]!.blocks.length);
      finished.delete(i);
    }
    return fill(world, longestWaitingFirst([...members.keys()], view.tallies), view.blocks);
  };
  return { choose, learned: (skill) => finished.has(skill) };
};

/** Landed share of a technique's practice after a day; null without any. */
function practisedAfter(world: World, skill: number, day: number, { logs }: View): number | null {
  const { id } = world.skills[skill]!;
  let landed = 0;
  let tries = 0;
  for (const entry of logs.practice) {
    if (entry.technique !== id || entry.day - firstDay <= day) continue;
    landed += entry.counted?.landed ?? 0;
    tries += entry.counted?.tries ?? 0;
  }
  return tries > 0 ? landed / tries : null;
}

/**
 * What cost most seconds in the last week's runs, until practice since then lands 80 %. Where that leaves blocks free: the best
 * save per difficulty.
 */
export const costliest: MakePolicy = (world) => {
  const judge = judgeOf(world);
  return {
    choose: (view) => {
      const runs = lastWeekOf(world, view);
      const cost = secondsOfAMiss(world, runs, view);
      const total = runs.map(({ missed }, i) => missed * cost[i]!);
      const costing = [...world.skills.keys()].filter(
        (i) => total[i]! > 0 && (practisedAfter(world, i, runs[i]!.lastDay, view) ?? 0) < enough,
      );
      costing.sort((a, b) => total[b]! - total[a]! || a - b);
      const rest = inOrder(world, view, judge, (i, saves) => saves / world.skills[i]!.written);
      const order = [...new Set([...costing.map((i) => needFirst(world, i, view)), ...rest])];
      return fill(world, order.slice(0, view.blocks), view.blocks);
    },
    learned: learnedBy(judge),
  };
};
