/**
 * How a block goes from its first try to its last, from blocks that were logged try by try: whether the first tries land
 * less often than what is learned within the block explains, and whether tries land less often toward the end.
 *
 *     log odds of try j of n in block b = x_b + g_b · j/n − a · e^(−j/τ)
 *
 * x_b drops out (`tapeLikelihood.ts`). g_b, what learning and tiring within the block come to, is the block's own, normal
 * around γ. a is what the first try lacks: 0 with a chance of one half, else half normal; τ is 3, 8 or 20 tries. Sums over grids.
 * Priors: chosen.
 */
import { MemoCache } from '../../incremental/memoCache.ts';
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { AttemptCount, PracticeEntry } from '../core/types.ts';
import { orderLogChance } from './tapeLikelihood.ts';

/** What the blocks that were logged try by try say about the course of a block. */
export interface BlockCourse {
  /** Blocks whose order of tries was used. */
  readonly blocks: number;
  /** Counts of the first {@link courseRules}.`first` tries of these blocks, of the last third, and of those between. */
  readonly first: AttemptCount;
  readonly middle: AttemptCount;
  readonly last: AttemptCount;
  /** Chance that the first tries land less often than what is learned within a block explains. */
  readonly chanceColdStart: number;
  /** If so: the log odds that the first try lacks. */
  readonly firstTryLacks: number;
  /** Chance that tries land less often from the beginning of a block to its end, apart from the first tries. */
  readonly chanceTiring: number;
}

/**
 * - `first`: tries at the beginning of a block that are counted by themselves.
 * - `shortest`: a block with fewer tries says nothing about its course.
 * - `longest`: tries of a block that are looked at; the rest is left out.
 * - `latest`: blocks that are looked at, the latest ones.
 */
export const courseRules = { first: 3, shortest: 10, longest: 120, latest: 60 } as const;

const lacks = { step: 0.2, count: 10, sd: 0.6 } as const;
const lasting = [3, 8, 20] as const;
const drifts = { from: -2, step: 0.5, count: 9, sd: 0.6 } as const;
const meanDrifts = { from: -1.5, step: 0.25, count: 13, sd: 0.6 } as const;

/** The shapes of a beginning: what the first try lacks and for how long. The first of them lacks nothing. */
const beginnings = [
  { lack: 0, lasts: 1 },
  ...evenly(lacks.step, lacks.step, lacks.count - 1).flatMap((lack) =>
    lasting.map((lasts) => ({ lack, lasts })),
  ),
];
/** As likely as not nothing is lacking; the others share what is left. */
const beginningShares = [
  0.5,
  ...toShares(beginnings.slice(1).map(({ lack }) => bell(lack / lacks.sd))).map((share) => share / 2),
];

function evenly(from: number, step: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from + i * step);
}

function bell(z: number): number {
  return Math.exp(-0.5 * z * z);
}

function toShares(weights: readonly number[]): number[] {
  const total = weights.reduce((a, b) => a + b, 0);
  return weights.map((weight) => weight / total);
}

/** The prior of a block's drift at each mean drift, and the prior of the mean drifts. */
const driftPoints = evenly(drifts.from, drifts.step, drifts.count);
const meanDriftPoints = evenly(meanDrifts.from, meanDrifts.step, meanDrifts.count);
const driftShares = meanDriftPoints.map((mean) =>
  toShares(driftPoints.map((drift) => bell((drift - mean) / drifts.sd))),
);
const meanDriftShares = toShares(meanDriftPoints.map((mean) => bell(mean / meanDrifts.sd)));

/** The order of the latest blocks that tell one: not all tries of them landed or missed. */
function ordersOf(practice: readonly PracticeEntry[]): boolean[][] {
  return practice
    .flatMap(({ tape }) => (tape === undefined ? [] : [[...tape.slice(0, courseRules.longest)]]))
    .map((letters) => letters.map((letter) => letter === 'l'))
    .filter((tries) => tries.length >= courseRules.shortest && new Set(tries).size === 2)
    .slice(-courseRules.latest);
}

/** Likelihood of one block at each beginning (rows) and mean drift (columns). */
function blockLikelihood(tries: readonly boolean[]): number[][] {
  const offsets = new Float64Array(tries.length);
  return beginnings.map(({ lack, lasts }) => {
    const byDrift = driftPoints.map((drift) => {
      for (let j = 0; j < offsets.length; j++)
        offsets[j] = (drift * j) / offsets.length - lack * Math.exp(-j / lasts);
      return Math.exp(orderLogChance(tries, offsets) + Math.log(2) * tries.length);
    });
    return driftShares.map((shares) => shares.reduce((sum, share, i) => sum + share * byDrift[i]!, 0));
  });
}

function countOf(parts: readonly (readonly boolean[])[]): AttemptCount {
  const all = parts.flat();
  return { landed: all.filter(Boolean).length, tries: all.length };
}

/**
 * How the blocks of these entries go; null where none of them was logged try by try.
 *
 * @param practice in the order of time
 */
export const blockCourse = inOneGo(blockCourseInSteps);

/**
 * The same in steps, one for each block.
 *
 * @param cache keeps the answer until another block is logged try by try
 */
export function* blockCourseInSteps(
  practice: readonly PracticeEntry[],
  cache = new MemoCache(),
): Steps<BlockCourse | null> {
  const blocks = ordersOf(practice);
  if (blocks.length === 0) return null;
  return yield* cache.getOrComputeInSteps('block course', [JSON.stringify(blocks)], () => courseOf(blocks));
}

function* courseOf(blocks: readonly (readonly boolean[])[]): Steps<BlockCourse> {
  const log = beginnings.map(() => meanDriftPoints.map(() => 0));
  for (const likelihood of yield* mapInSteps(blocks, blockLikelihood))
    likelihood.forEach((row, i) => row.forEach((value, j) => (log[i]![j]! += Math.log(value))));
  const top = Math.max(...log.flat());
  const joint = log.map((row, i) =>
    row.map((value, j) => Math.exp(value - top) * beginningShares[i]! * meanDriftShares[j]!),
  );
  const total = joint.flat().reduce((a, b) => a + b, 0);
  const byBeginning = joint.map((row) => row.reduce((a, b) => a + b, 0) / total);
  const cold = 1 - byBeginning[0]!;
  const lack = beginnings.reduce((sum, beginning, i) => sum + byBeginning[i]! * beginning.lack, 0);
  const tiring = meanDriftPoints.reduce((sum, mean, j) => {
    const share = joint.reduce((all, row) => all + row[j]!, 0) / total;
    return sum + (mean < 0 ? share : mean === 0 ? share / 2 : 0);
  }, 0);
  const lastFrom = (tries: readonly boolean[]): number => Math.ceil((2 * tries.length) / 3);
  return {
    blocks: blocks.length,
    first: countOf(blocks.map((tries) => tries.slice(0, courseRules.first))),
    middle: countOf(blocks.map((tries) => tries.slice(courseRules.first, lastFrom(tries)))),
    last: countOf(blocks.map((tries) => tries.slice(lastFrom(tries)))),
    chanceColdStart: cold,
    firstTryLacks: cold > 0 ? lack / cold : 0,
    chanceTiring: tiring,
  };
}
