/**
 * How likely the order of landed and missed tries is in the blocks that were logged try by try, for every way in which a block
 * may begin.
 *
 *     log odds of try j of n in block b = x_b + g_b · j/n − a · e^(−j/τ)
 *
 * x_b drops out (`tapeLikelihood.ts`). g_b, what learning and tiring within the block come to, is the block's own, normal
 * around γ. a is what the first try lacks, τ is 3, 8 or 20 tries. Whoever uses this has priors of their own for a, τ and γ.
 */
import type { MemoCache } from '../../incremental/memoCache.ts';
import { mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { PracticeEntry } from '../core/types.ts';
import { shares } from './learnerKinds.ts';
import { orderLogChance } from './tapeLikelihood.ts';

/**
 * - `shortest`: a block with fewer tries says nothing about its course.
 * - `longest`: tries of a block that are looked at; the rest is left out.
 * - `latest`: blocks that are looked at, the latest ones.
 */
export const tapeRules = { shortest: 10, longest: 120, latest: 60 } as const;

const lacks = { step: 0.2, count: 10 } as const;
const lasting = [3, 8, 20] as const;
const drifts = { from: -2, step: 0.5, count: 9, sd: 0.6 } as const;
const meanDrifts = { from: -1.5, step: 0.25, count: 13 } as const;

/** The shapes of a beginning: what the first try lacks, log odds, and for how many tries. The first of them lacks nothing. */
export const beginnings: readonly { readonly lack: number; readonly lasts: number }[] = [
  { lack: 0, lasts: 1 },
  ...evenly(lacks.step, lacks.step, lacks.count - 1).flatMap((lack) =>
    lasting.map((lasts) => ({ lack, lasts })),
  ),
];

/** Possible mean drifts of a runner's blocks, log odds from the first try to the last. */
export const meanDriftPoints: readonly number[] = evenly(meanDrifts.from, meanDrifts.step, meanDrifts.count);

/** The prior of a block's drift at each mean drift. */
const driftPoints = evenly(drifts.from, drifts.step, drifts.count);
const driftShares = meanDriftPoints.map((mean) =>
  shares(driftPoints.map((drift) => bell((drift - mean) / drifts.sd))),
);

function evenly(from: number, step: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from + i * step);
}

/** A bell at a distance of so many standard deviations, without its factor. */
export function bell(z: number): number {
  return Math.exp(-0.5 * z * z);
}

/** Blocks whose order of tries tells something, and how likely it is. */
export interface BlockOrders {
  /** The tries of each block in order: whether they landed. */
  readonly blocks: readonly (readonly boolean[])[];
  /** Log likelihood at each beginning (rows) and mean drift (columns), up to a constant. */
  readonly logs: readonly (readonly number[])[];
}

/** The latest blocks whose order tells something, one letter a try: not all tries of them landed or missed. */
function tapesOf(practice: readonly PracticeEntry[]): string[] {
  return practice
    .flatMap(({ tape }) => (tape === undefined ? [] : [tape.slice(0, tapeRules.longest)]))
    .filter((tape) => tape.length >= tapeRules.shortest && new Set(triesOf(tape)).size === 2)
    .slice(-tapeRules.latest);
}

/**
 * How the blocks that were logged try by try begin; null where none of them tells anything. Each block is a step.
 *
 * @param practice in the order of time
 * @param cache keeps what was worked out of each block
 */
export function* blockOrdersInSteps(
  practice: readonly PracticeEntry[],
  cache: MemoCache,
): Steps<BlockOrders | null> {
  const tapes = tapesOf(practice);
  if (tapes.length === 0) return null;
  return yield* cache.getOrComputeInSteps('orders of blocks', [tapes.join(' ')], function* () {
    const known = cache.getOrCompute('order of each block', [], () => new Map<string, number[][]>());
    const logs = beginnings.map(() => meanDriftPoints.map(() => 0));
    const each = yield* mapInSteps(tapes, (tape) => {
      const found = known.get(tape) ?? blockLogLikelihood(triesOf(tape));
      known.set(tape, found);
      return found;
    });
    for (const block of each) block.forEach((row, i) => row.forEach((value, j) => (logs[i]![j]! += value)));
    const wanted = new Set(tapes);
    for (const tape of [...known.keys()]) if (!wanted.has(tape)) known.delete(tape);
    return { blocks: tapes.map(triesOf), logs };
  });
}

function triesOf(tape: string): boolean[] {
  return [...tape].map((letter) => letter === 'l');
}

/** Log likelihood of one block at each beginning (rows) and mean drift (columns). */
function blockLogLikelihood(tries: readonly boolean[]): number[][] {
  const offsets = new Float64Array(tries.length);
  return beginnings.map(({ lack, lasts }) => {
    const byDrift = driftPoints.map((drift) => {
      for (let j = 0; j < offsets.length; j++)
        offsets[j] = (drift * j) / offsets.length - lack * Math.exp(-j / lasts);
      return Math.exp(orderLogChance(tries, offsets) + Math.log(2) * tries.length);
    });
    return driftShares.map((shares) =>
      Math.log(shares.reduce((sum, share, i) => sum + share * byDrift[i]!, 0)),
    );
  });
}
