/** What runners do by hand: simple orders, each followed with common sense. */
import { chance, seedOf } from '../random.ts';
import { breakEvens } from '../worth.ts';
import type { Skill, World } from '../world.ts';
import { fill, longestWaitingFirst, mostADay, readyByCounts, recentRate } from './policy.ts';
import type { MakePolicy, Tally, View } from './policy.ts';

/** Landing rate in practice at which a runner mostly calls a technique learned, unless break-even asks for more. */
const usual = 0.85;

/** Blocks after which a technique that hardly lands is put back to the end of the line, and how seldom that is. */
const patience = 8;
const hardly = 0.25;

export interface Judge {
  /** Learned, by the runner's own counts. */
  readonly done: (skill: number, tally: Tally) => boolean;
  /** Practised long and hardly landing. */
  readonly stuck: (tally: Tally) => boolean;
}

/** How a runner judges by counts alone, who calls learned what lands so often in practice. */
export function judgeOf(world: World, learned = usual): Judge {
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

function byScore(scoreOf: (skill: Skill) => number, learned = usual): MakePolicy {
  return (world) => {
    const judge = judgeOf(world, learned);
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

/*
 * Each of these rules, and the five in turn, calls learned what lands at the rate at which it did best of seven or more (20 to 90 %)
 * on 25 runners of each kind with seed 515, which no table shows.
 */
export const biggestSave = byScore(saved, 0.6);
export const easiest = byScore((skill) => -skill.written + 1e-3 * saved(skill));

export const savePerDifficulty = byScore((skill) => saved(skill) / skill.written, 0.55);

/** Attempts that the written difficulties 1, 5 and 10 typically take to 80 % in practice, as the scale tells runners. */
const scale = [
  [1, 50],
  [5, 550],
  [10, 9000],
] as const;

/** Hours of practice by the scale, evenly in logarithms between its points. */
function scaleHours({ written, attempt, reload }: Skill): number {
  const [low, high] = written < 5 ? [scale[0], scale[1]] : [scale[1], scale[2]];
  const share = (written - low[0]) / (high[0] - low[0]);
  return (low[1] * (high[1] / low[1]) ** share * (attempt + reload)) / 3600;
}

export const savePerHour = byScore((skill) => saved(skill) / scaleHours(skill), 0.55);

/** The five biggest saves that are not learned, by turns. */
export const fiveInTurn: MakePolicy = (world) => {
  const judge = judgeOf(world, 0.75);
  return {
    choose: (view) => {
      const order = inOrder(world, view, judge, (i) => saved(world.skills[i]!));
      return fill(world, longestWaitingFirst(order.slice(0, 5), view.tallies), view.blocks);
    },
    learned: learnedBy(judge),
  };
};

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
