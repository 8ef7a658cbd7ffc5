/** What runners do by hand: simple orders, each followed with common sense. */
import { chance, seedOf } from '../random.ts';
import { breakEvens } from '../worth.ts';
import type { Skill, World } from '../world.ts';
import { fill, longestWaitingFirst, mostADay, readyByCounts, recentRate } from './policy.ts';
import type { MakePolicy, Tally, View } from './policy.ts';
import { savedNow, takerByHand } from './savedNow.ts';

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

/**
 * The technique itself, or the first need under it that is not ready. What takes its item comes before it, but not before what is
 * only needed by others: an item is needed in runs, not in practice.
 */
export function needFirst(world: World, skill: number, view: View): number {
  const taker = missingTaker(world, skill, view);
  return firstNeed(world, taker ?? skill, view);
}

function firstNeed(world: World, skill: number, view: View): number {
  for (const need of world.skills[skill]!.needs) {
    if (!readyByCounts(view.tallies[need]!)) return firstNeed(world, need, view);
  }
  return skill;
}

/** What takes the item that a technique needs, where that is not ready itself. */
function missingTaker(world: World, skill: number, view: View): number | null {
  const taker = takerByHand(world, skill);
  return taker === null || readyByCounts(view.tallies[taker]!) ? null : taker;
}

/**
 * Techniques in order of a score, done ones left out, stuck ones and those that wait for a stuck one to take their item last and after
 * them those that would save nothing more, needs before what stands on them.
 *
 * @param scoreOf the score of a technique that would save so many seconds more in a run
 */
export function inOrder(
  world: World,
  view: View,
  judge: Judge,
  scoreOf: (skill: number, saves: number) => number,
): number[] {
  const done = (i: number): boolean => judge.done(i, view.tallies[i]!);
  const saves = savedNow(world, view, done);
  const open = [...world.skills.keys()]
    .filter((i) => !done(i))
    .map((skill) => {
      const more = saves(skill);
      const waitsFor = missingTaker(world, skill, view) ?? skill;
      const stuck = [skill, waitsFor].some((one) => judge.stuck(view.tallies[one]!));
      const last = more <= 0 ? 2 : stuck ? 1 : 0;
      return { skill, last, score: scoreOf(skill, more) };
    });
  open.sort((a, b) => a.last - b.last || b.score - a.score || a.skill - b.skill);
  return [...new Set(open.map(({ skill }) => needFirst(world, skill, view)))];
}

function byScore(scoreOf: (skill: Skill, saves: number) => number, learned = usual): MakePolicy {
  return (world) => {
    const judge = judgeOf(world, learned);
    return {
      choose: (view) => {
        const order = inOrder(world, view, judge, (i, saves) => scoreOf(world.skills[i]!, saves));
        return fill(world, order.slice(0, view.blocks), view.blocks);
      },
      learned: learnedBy(judge),
    };
  };
}

/*
 * Each of these rules, and the five in turn, calls learned what lands at the rate at which it did best of seven or more (20 to 90 %)
 * on 25 runners of each kind with seed 515, which no table shows.
 */
export const biggestSave = byScore((_skill, saves) => saves, 0.6);
export const easiest = byScore(({ written }, saves) => -written + 1e-3 * saves);

export const savePerDifficulty = byScore(({ written }, saves) => saves / written, 0.55);

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

export const savePerHour = byScore((skill, saves) => saves / scaleHours(skill), 0.55);

/** The five biggest saves that are not learned, by turns. */
export const fiveInTurn: MakePolicy = (world) => {
  const judge = judgeOf(world, 0.75);
  return {
    choose: (view) => {
      const order = inOrder(world, view, judge, (_skill, saves) => saves);
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
      const order = inOrder(world, view, judge, (i, saves) => saves / world.skills[i]!.written);
      return order.flatMap((i) => new Array<number>(mostADay(world)).fill(i)).slice(0, view.blocks);
    },
    learned: learnedBy(judge),
  };
};
