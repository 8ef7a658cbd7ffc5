/**
 * What a day does to a technique by its true curve: blocks at the pace that they will really have, an evening of runs in
 * expectation, the night and the slip.
 */
import { resetChance, triesTonight } from '../evening.ts';
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
  /** After the evening's runs and the night, with the slip where it is this one. */
  readonly rest: (skill: number, before: Stand, day: number) => Stand;
}

/** How often a run tries each technique, as a share of the runs started. No run ends by a miss here. */
function triesARun(world: World): number[] {
  const reached: number[] = [];
  let alive = 1;
  for (const { survive } of world.segments) {
    reached.push(alive);
    alive *= survive * (1 - resetChance);
  }
  return world.skills.map(({ segments }) => segments.reduce((sum, s) => sum + reached[s]!, 0));
}

/** The days of one runner. */
export function expectedDays(world: World, { truth: { learnings }, start, slip }: Secret): ExpectedDays {
  const edges = breakEvens(world);
  const share = triesARun(world);
  const evening = (skill: number, before: Stand, day: number): Stand => {
    const started = world.days[day]!.runs;
    if (started === 0 || !triesTonight(before, edges[skill]!, world.skills[skill]!.known)) return before;
    const learning = learnings[skill]!;
    const tries = started * share[skill]!;
    const counted = { landed: tries * inRun(learning, before.at), tries };
    return { ...before, at: learning.practise(before.at, tries, 0), runs: [...before.runs, counted] };
  };
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
    rest: (skill, before, day) => {
      const { at, blocks, runs } = evening(skill, before, day);
      const next = learnings[skill]!.night(at);
      const slips = slip?.skill === skill && slip.night === day;
      return { at: slips ? afterSlip(learnings[skill]!, next) : next, blocks, runs };
    },
  };
}
