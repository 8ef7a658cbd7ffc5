/**
 * What the order of the tries in blocks says of runs: the first tries of a block land less often than the others, and in a run
 * every try is a first try.
 *
 * a, what the first try of a block lacks in log odds, is half normal with scale `coldStartSd`, and fades over τ = 3, 8 or 20 tries
 * (`blockBeginnings.ts`, which also allows for learning and tiring within the block). A technique's rate in practice is that of
 * whole blocks, so a try in a run would lack a · (1 − the mean of e^(−j/τ) over a block). How much of that is lost in runs is not
 * known; half of it is expected.
 */
import type { MemoCache } from '../../incremental/memoCache.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { Constants } from '../core/constants.ts';
import type { PracticeEntry } from '../core/types.ts';
import { beginnings, bell, blockOrdersInSteps, meanDriftPoints } from './blockBeginnings.ts';
import { shares } from './learnerKinds.ts';
import type { BlockOrders } from './blockBeginnings.ts';

/** How far runners differ in what blocks gain or lose from their first try to their last, log odds. Chosen. */
const meanDriftSd = 0.6;

/** The prior of each beginning. What lacks nothing stands for the half step above 0; the scales of fading are equally likely. */
export function beginningPrior(sd: number): number[] {
  const scales = new Set(beginnings.slice(1).map(({ lasts }) => lasts)).size;
  return shares(beginnings.map(({ lack }, i) => bell(lack / sd) * (i === 0 ? scales / 2 : 1)));
}

/** The posterior of each beginning from the order of tries in blocks. */
export function beginningPosterior({ logs }: BlockOrders, sd: number): number[] {
  const prior = beginningPrior(sd);
  const drifts = meanDriftPoints.map((mean) => bell(mean / meanDriftSd));
  const top = logs.flat().reduce((a, b) => Math.max(a, b), -Infinity);
  return shares(
    logs.map((row, i) => prior[i]! * row.reduce((sum, log, j) => sum + drifts[j]! * Math.exp(log - top), 0)),
  );
}

/** The mean over a block of so many tries of what of the beginning is left. */
function meanLeft(lasts: number, tries: number): number {
  let sum = 0;
  for (let j = 0; j < tries; j++) sum += Math.exp(-j / lasts);
  return sum / tries;
}

/** The share of what a first try in practice lacks that is expected in runs, too. Chosen. */
const sharedByRuns = 0.5;

/** The answer is rounded to parts of a log odds, so that one more block mostly changes nothing. */
const parts = 10;

/**
 * By how much the tapes of blocks raise or lower the loss in a run that was expected without them, log odds; 0 where no tape tells
 * anything, or where `coldStartSd` is 0.
 *
 * @param practice of all techniques, in any order; entries after `asOfDay` do not count
 * @param cache keeps what was worked out of each block
 */
export function* coldStartInSteps(
  practice: readonly PracticeEntry[],
  asOfDay: number,
  { coldStartSd }: Constants,
  cache: MemoCache,
): Steps<number> {
  if (!(coldStartSd > 0)) return 0;
  const inOrder = practice
    .filter(({ day, tape }) => tape !== undefined && day <= asOfDay)
    .sort((a, b) => a.day - b.day || a.order - b.order || (a.tape! < b.tape! ? -1 : 1));
  const orders = yield* blockOrdersInSteps(inOrder, cache);
  if (orders === null) return 0;
  const tries = orders.blocks.reduce((sum, block) => sum + block.length, 0) / orders.blocks.length;
  const lacking = beginnings.map(({ lack, lasts }) => lack * (1 - meanLeft(lasts, Math.round(tries))));
  const expected = (weights: readonly number[]): number =>
    weights.reduce((sum, weight, i) => sum + weight * lacking[i]!, 0);
  const moved = expected(beginningPosterior(orders, coldStartSd)) - expected(beginningPrior(coldStartSd));
  return Math.round(sharedByRuns * moved * parts) / parts;
}

/**
 * The constants of a runner with the loss in runs that the tapes make more likely; it is never expected to be a gain.
 *
 * @param moved log odds, from {@link coldStartInSteps}
 * @param cache gives the same object for the same numbers
 */
export function withColdStart(constants: Constants, moved: number, cache: MemoCache): Constants {
  if (moved === 0) return constants;
  // Rounded, because it is shown as it is.
  const sum = Math.round((constants.pressureMean + moved) * 1000) / 1000;
  const pressureMean = Math.max(Math.min(0, constants.pressureMean), sum);
  return cache.getOrCompute('constants with a cold start', [constants, moved], () => ({
    ...constants,
    pressureMean,
  }));
}
