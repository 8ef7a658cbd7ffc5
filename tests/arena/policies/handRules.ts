/** What runners do by hand: simple orders, each followed with common sense. */
import { chance, seedOf } from '../random.ts';
import { breakEvens } from '../worth.ts';
import type { Skill, World } from '../world.ts';
import { fill, mostADay, readyByCounts, recentRate } from './policy.ts';
import type { MakePolicy, Tally, View } from './policy.ts';

/** Landing rate in practice at which a runner calls a technique learned, unless break-even asks for more. */
const learned = 0.85;

/** Blocks after which a technique that hardly lands is put back to the end of the line, and how seldom that is. */
const patience = 8;
const hardly = 0.25;

export interface Judge {
  /** Learned, by the runner's own counts. */
  readonly done: (skill: number, tally: Tally) => boolean;
  /** Practised long and hardly landing. */
  readonly stuck: (tally: Tally) => boolean;
}

/** How a runner judges by counts alone. */
export function judgeOf(world: World): Judge {
  const edges = breakEvens(world).map((edge) => Math.max(learned, Math.min(0.97, edge + 0.05)));
  return {
    done: (skill, tally) => {
      const rate = recentRate(tally);
      if (rate !== null) return rate >= edges[skill]!;
      return tally.inRun;
    },
    stuck: (tally) => tally.blocks.length >= patience && (recentRate(tally) ?? 0) < hardly,
  };
}

/** What a rule with this judge calls learned. */
export function learnedBy(judge: Judge): (skill: number, view: View) => boolean {
  return (skill, view) => judge.done(skill, view.tallies[skill]!);
}

/** The technique itself, or the first need under it that is not ready. */
export function needFirst(world: World, skill: number, view: View): number {
  for (const need of world.skills[skill]!.needs) {
    if (!readyByCounts(view.tallies[need]!)) return needFirst(world, need, view);
  }
  return skill;
}

/** Techniques in order of a score, done ones left out, stuck ones last, needs before what stands on them. */
export function inOrder(world: World, view: View, judge: Judge, score: (skill: number) => number): number[] {
  const open = [...world.skills.keys()].filter((i) => !judge.done(i, view.tallies[i]!));
  const stuck = (i: number): number => (judge.stuck(view.tallies[i]!) ? 1 : 0);
  open.sort((a, b) => stuck(a) - stuck(b) || score(b) - score(a) || a - b);
  return [...new Set(open.map((i) => needFirst(world, i, view)))];
}

function byScore(scoreOf: (skill: Skill) => number): MakePolicy {
  return (world) => {
    const judge = judgeOf(world);
    const scores = world.skills.map(scoreOf);
    return {
      choose: (view) => {
        const order = inOrder(world, view, judge, (i) => scores[i]!);
        return fill(world, order.slice(0, view.blocks), view.blocks);
      },
      learned: learnedBy(judge),
    };
  };
}

export const saved = (skill: Skill): number => skill.saves * skill.segments.length;

export const biggestSave = byScore(saved);
export const easiest = byScore((skill) => -skill.written + 1e-3 * saved(skill));
export const savePerDifficulty = byScore((skill) => saved(skill) / skill.written);

export const randomSet: MakePolicy = (world, seed) => {
  const judge = judgeOf(world);
  return {
    choose: (view) => {
      const random = chance(seedOf(seed, 77, view.day));
      const scores = world.skills.map(() => random.next());
      return fill(world, inOrder(world, view, judge, (i) => scores[i]!).slice(0, view.blocks), view.blocks);
    },
    learned: learnedBy(judge),
  };
};

/** One technique for its whole hour a day until it is learned, in order of save per difficulty; then the next. */
export const oneUntilDone: MakePolicy = (world) => {
  const judge = judgeOf(world);
  return {
    choose: (view) => {
      const order = inOrder(world, view, judge, (i) => saved(world.skills[i]!) / world.skills[i]!.written);
      return order.flatMap((i) => new Array<number>(mostADay(world)).fill(i)).slice(0, view.blocks);
    },
    learned: learnedBy(judge),
  };
};
