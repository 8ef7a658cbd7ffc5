/**
 * How much longer each step of difficulty takes a runner, learned from what they have practised.
 *
 * The difficulties of a route are somebody's guess: to one runner a step is a doubling of the practice, to another next to
 * nothing. A step moves the expected half-way point of a technique, as the runner's offset does, so what the counts of a
 * technique say at another scale is what they say at another offset, and nothing is compared with the curves anew.
 */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { MemoCache } from '../../incremental/memoCache.ts';
import type { Constants } from '../core/constants.ts';
import { clamp, logSum } from '../core/numbers.ts';
import type { CurveGrid } from './curveGrid.ts';
import type { LossGrid } from './evidence.ts';
import { firstPassInSteps, toShares } from './runnerPosterior.ts';
import type { FirstPass, RunnerLikelihood, TechniqueObservation } from './runnerPosterior.ts';
import { ratedDifficulty } from './slotPrior.ts';

/** The difficulty whose half-way point is the same at every scale: the middle of the scale from 1 to 10. */
const middle = 5.5;

/** The scales that are compared: so many of these steps to each side of the usual one, in ln(1 + E/unit) a step of difficulty. */
const scaleStep = 0.1;
const reach = 6;

/** The answer is rounded to this step, so that luck alone seldom moves it, and with it the ranking, from day to day. */
const answerStep = 0.2;

/** Learns the scale; see {@link learnScaleInSteps}. */
export const learnScale = inOneGo(learnScaleInSteps);

/**
 * The constants with the scale of difficulties that the counts of all techniques speak for: the mean of its posterior,
 * from a normal prior around the usual scale, rounded. The same object where it is the usual one.
 *
 * @param memory caches the first grid, the answer and the constants of each scale
 */
export function* learnScaleInSteps(
  members: readonly TechniqueObservation[],
  grid: CurveGrid,
  losses: LossGrid,
  constants: Constants,
  memory: MemoCache,
): Steps<Constants> {
  if (!(constants.midwayPerStepSd > 0)) return constants;
  const pass = yield* firstPassInSteps(members, grid, losses, constants, memory);
  const informing = members.flatMap(({ difficulty }, i): Informing[] => {
    const likelihood = pass.likelihoods[i];
    return likelihood ? [{ harder: ratedDifficulty(difficulty) - middle, likelihood }] : [];
  });
  if (informing.length < 2) return constants;
  const on = [
    constants,
    pass.runnerGrid,
    ...informing.flatMap(({ harder, likelihood }) => [harder, likelihood]),
  ];
  return yield* memory.getOrComputeInSteps('scale of difficulties', on, function* () {
    const mean = yield* meanStepInSteps(informing, pass, constants);
    return scaledConstants(constants, Math.round(mean / answerStep) * answerStep, memory);
  });
}

/** A technique whose counts say something about the scale: steps above the middle of it, and what they say. */
interface Informing {
  readonly harder: number;
  readonly likelihood: RunnerLikelihood;
}

/** Posterior mean of what a step of difficulty counts beyond the usual, in ln(1 + E/unit). */
function* meanStepInSteps(
  informing: readonly Informing[],
  { runnerGrid: { offsets, pressures }, logPrior }: FirstPass,
  { midwayPerStep, midwayPerStepSd }: Constants,
): Steps<number> {
  const offsetStep = offsets[1]! - offsets[0]!;
  const compared = Array.from({ length: 2 * reach + 1 }, (_, i) => (i - reach) * scaleStep).filter(
    (off) => midwayPerStep + off >= 0,
  );
  const logs = new Float64Array(compared.length);
  for (const [i, off] of compared.entries()) {
    const cells = logPrior.slice();
    for (const { harder, likelihood } of informing)
      addMoved(cells, likelihood.log, (-off * harder) / offsetStep, offsets.length, pressures.length);
    logs[i] = logSum(cells) - 0.5 * (off / midwayPerStepSd) ** 2;
    yield;
  }
  return toShares(logs).reduce((sum, share, i) => sum + share * compared[i]!, 0);
}

/** The constants at another scale, with the same half-way point in the middle. */
function scaledConstants(constants: Constants, by: number, memory: MemoCache): Constants {
  if (by === 0) return constants;
  return memory.getOrCompute('constants of the scale', [constants, by], () => ({
    ...constants,
    midwayPerStep: inMillionths(constants.midwayPerStep + by),
    midwayAtEasiest: inMillionths(constants.midwayAtEasiest - by * (middle - 1)),
  }));
}

/** Without the rounding errors of sums of decimal fractions, as these numbers are shown. */
const inMillionths = (value: number): number => Math.round(value * 1e6) / 1e6;

/**
 * Adds a technique's log likelihood to the cells, moved by a number of rows (offsets): between rows by the parabola through
 * the three nearest, beyond the ends as at the end.
 */
function addMoved(cells: Float64Array, log: Float64Array, by: number, rows: number, columns: number): void {
  const size = rows * columns;
  for (let from = 0; from < log.length; from += size) {
    for (let row = 0; row < rows; row++) {
      const at = clamp(row + by, 0, rows - 1);
      const near = clamp(Math.round(at), 1, rows - 2);
      const t = at - near;
      const [below, here, above] = [(t * (t - 1)) / 2, 1 - t * t, (t * (t + 1)) / 2];
      for (let column = 0; column < columns; column++) {
        const i = from + near * columns + column;
        cells[from + row * columns + column]! +=
          below * log[i - columns]! + here * log[i]! + above * log[i + columns]!;
      }
    }
  }
}
