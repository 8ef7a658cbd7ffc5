/**
 * How a block goes from its first try to its last, from blocks that were logged try by try: whether the first tries land
 * less often than what is learned within the block explains, and whether tries land less often toward the end.
 *
 * How likely the blocks are at each beginning is worked out in `skill/blockBeginnings.ts`. Here the first try lacks nothing with a
 * chance of one half, else a half-normal number of log odds. Sums over grids. Priors: chosen.
 */
import { MemoCache } from '../../incremental/memoCache.ts';
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { AttemptCount, PracticeEntry } from '../core/types.ts';
import {
  beginnings,
  bell,
  blockOrdersInSteps,
  meanDriftPoints,
  tapeRules,
} from '../skill/blockBeginnings.ts';
import { shares } from '../skill/learnerKinds.ts';
import type { BlockOrders } from '../skill/blockBeginnings.ts';

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

/** `first`: tries at the beginning of a block that are counted by themselves. The others: `tapeRules`. */
export const courseRules = { first: 3, ...tapeRules } as const;

const lackSd = 0.6;
const meanDriftSd = 0.6;

/** As likely as not nothing is lacking; the others share what is left. */
const beginningShares = [
  0.5,
  ...shares(beginnings.slice(1).map(({ lack }) => bell(lack / lackSd))).map((share) => share / 2),
];
const meanDriftShares = shares(meanDriftPoints.map((mean) => bell(mean / meanDriftSd)));

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
 * @param cache keeps what was worked out of each block
 */
export function* blockCourseInSteps(
  practice: readonly PracticeEntry[],
  cache = new MemoCache(),
): Steps<BlockCourse | null> {
  const orders = yield* blockOrdersInSteps(practice, cache);
  return orders && courseOf(orders);
}

function courseOf({ blocks, logs: log }: BlockOrders): BlockCourse {
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
