/**
 * What a day does to a technique by its true curve: blocks at the pace that they will really have, an evening of runs in
 * expectation, the night and the slip.
 */
import { createTonight } from '../choices/tonight.ts';
import { triesARun } from '../choices/triesARun.ts';
import { resetChance } from '../evening.ts';
import type { Secret, Tally } from '../policies/policy.ts';
import { blockOf } from '../simulate.ts';
import { afterSlip } from '../truth/slip.ts';
import { inRun } from '../truth/truth.ts';
import type { Progress } from '../truth/truth.ts';
import type { World } from '../world.ts';
import { breakEvens } from '../worth.ts';

/** Where a technique stands, and the counts that its runner may expect to have, by which it is tried in runs. */
export interface Stand {
  readonly at: Progress;
  readonly blocks: Tally['blocks'];
  readonly runs: Tally['runs'];
}

/** The steps of a day. Pure: each gives a new stand. */
export interface ExpectedDays {
  readonly start: (skill: number) => Stand;
  /** After the first, second, … block of a day; `needRate` gives the true rate in practice of a need. */
  readonly block: (
    skill: number,
    before: Stand,
    day: number,
    earlier: number,
    needRate: (need: number) => number,
  ) => Stand;
  /**
   * After the evening's runs, of techniques that have to be followed together: where each stands, in their order.
   *
   * @param now where each technique of the route stands before; of others than these it is not read
   */
  readonly evening: (together: readonly number[], now: ArrayLike<Stand>, day: number) => readonly Stand[];
  /** After the night, with the slip where it is this one. */
  readonly night: (skill: number, before: Stand, day: number) => Stand;
}

/** Chance that a run reaches each segment. No run ends by a miss here. */
function chanceReached(world: World): number[] {
  const reached: number[] = [];
  let alive = 1;
  for (const { survive } of world.segments) {
    reached.push(alive);
    alive *= survive * (1 - resetChance);
  }
  return reached;
}

/** The days of one runner. */
export function expectedDays(world: World, { truth: { learnings }, start, slip }: Secret): ExpectedDays {
  const playedBy = createTonight(world, breakEvens(world));
  const reached = chanceReached(world);
  return {
    start: (skill) => ({ at: start[skill]!, blocks: [], runs: [] }),
    block: (skill, before, day, earlier, needRate) => {
      const { attempts } = blockOf(world, skill, day, earlier, needRate);
      const learning = learnings[skill]!;
      const half = learning.practise(before.at, attempts / 2, world.blockMinutes / 2);
      const counted = { landed: attempts * learning.rate(half), tries: attempts };
      return {
        at: learning.practise(before.at, attempts, world.blockMinutes),
        blocks: attempts > 0 ? [...before.blocks, counted] : before.blocks,
        runs: before.runs,
      };
    },
    evening: (together, now, day) => {
      const started = world.days[day]!.runs;
      if (started === 0) return together.map((skill) => now[skill]!);
      const tonight = playedBy((skill) => now[skill]!);
      const rateOf = (skill: number): number => inRun(learnings[skill]!, now[skill]!.at);
      return together.map((skill) => {
        const before = now[skill]!;
        const tries = started * triesARun(world, reached, tonight, rateOf, skill);
        if (tries === 0) return before;
        const learning = learnings[skill]!;
        const counted = { landed: tries * rateOf(skill), tries };
        return { ...before, at: learning.practise(before.at, tries, 0), runs: [...before.runs, counted] };
      });
    },
    night: (skill, { at, blocks, runs }, day) => {
      const next = learnings[skill]!.night(at);
      const slips = slip?.skill === skill && slip.night === day;
      return { at: slips ? afterSlip(learnings[skill]!, next) : next, blocks, runs };
    },
  };
}
