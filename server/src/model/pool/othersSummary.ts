/** What other runners found out about a technique, in the words of a runner: how hard it is, and how long it takes. */
import type { Constants } from '../core/constants.ts';
import { clamp } from '../core/numbers.ts';
import type { OthersWord, Rated } from '../core/rated.ts';
import { exponential } from '../skill/curveGrid.ts';
import { bandsBetween, curveFloors } from '../skill/curveShapes.ts';
import type { Band } from '../skill/curveShapes.ts';
import { learnerKinds, withShape } from '../skill/learnerKinds.ts';
import { midwayMean, midwaySdOf, ratedDifficulty } from '../skill/slotPrior.ts';

/** What other runners found out. */
export interface OthersSummary {
  /** How many runners it is from. */
  readonly runners: number;
  /** The difficulty, 1 to 10 in tenths, at which its half-way point would be where they found it. */
  readonly comesLike: number;
  /** Effective attempts after which half of such runners land half of their tries in practice; null where fewer ever do. */
  readonly attemptsToHalf: number | null;
}

/**
 * The difficulty that other runners' practice suggests, in tenths of a step within the scale from 1 to 10.
 *
 * @example
 * comesLike({ difficulty: 4, others: { midway: { mean: 1.1 } } }, { midwayPerStep: 0.55 }) // 6
 */
export function comesLike(
  { difficulty, others }: { readonly difficulty: number; readonly others: Pick<OthersWord, 'midway'> },
  { midwayPerStep }: Pick<Constants, 'midwayPerStep'>,
): number {
  const steps = midwayPerStep > 0 ? others.midway.mean / midwayPerStep : 0;
  return clamp(Math.round(10 * (ratedDifficulty(difficulty) + steps)) / 10, 1, 10);
}

/** Effective practice beyond this level, in ln(1 + E/unit), is more than anybody does. */
const mostLevel = 9;

/** What other runners found out about a technique with this rating. */
export function othersSummary(difficulty: number, others: OthersWord, constants: Constants): OthersSummary {
  return {
    runners: others.runners,
    comesLike: comesLike({ difficulty, others }, constants),
    attemptsToHalf: attemptsToHalf(difficulty, others, constants),
  };
}

/** By bisection of the level of practice: the chance that a runner lands half of their tries rises with it. */
function attemptsToHalf(difficulty: number, others: OthersWord, constants: Constants): number | null {
  const below = chanceBelow({ difficulty, others }, constants);
  const halves = halfPoints(others, constants);
  const chanceOfHalf = (level: number): number =>
    halves.reduce((sum, { weight, past }) => sum + weight * below(level - past), 0);
  if (chanceOfHalf(mostLevel) < 0.5) return null;
  let [low, high] = [0, mostLevel];
  for (let i = 0; i < 12; i++) {
    const middle = (low + high) / 2;
    if (chanceOfHalf(middle) < 0.5) low = middle;
    else high = middle;
  }
  return constants.unitPractice * Math.expm1(high);
}

/** The chance that the half-way point of a runner of whom nothing is known lies below a level. */
function chanceBelow(rated: Rated, constants: Constants): (level: number) => number {
  const mean = midwayMean(rated, 0, constants);
  const sd = Math.hypot(midwaySdOf(rated, constants), constants.offsetSd);
  const [reach, step] = [6, 0.02];
  const sums = new Float64Array(Math.round((2 * reach) / step) + 1);
  sums.forEach((_, i) => {
    const z = i * step - reach;
    sums[i] = (sums[i - 1] ?? 0) + Math.exp(-0.5 * z * z);
  });
  return (level) => {
    const at = Math.round(((level - mean) / sd + reach) / step);
    return at < 0 ? 0 : (sums[at] ?? sums.at(-1)!) / sums.at(-1)!;
  };
}

/** For each suddenness with each band of ceilings and floors, taken at its middle: how far past half-way half of the tries land. */
function halfPoints(others: OthersWord, constants: Constants): { weight: number; past: number }[] {
  const ceilings = bandsBetween(constants.ceilings);
  const floors = curveFloors(constants, false);
  const sudden = [...constants.steepness, exponential];
  return learnerKinds(constants).flatMap((usual) => {
    const kind = withShape(usual, others.shape);
    return sudden.flatMap((steepness, s) =>
      ceilings.flatMap((ceiling, c) =>
        floors.map((floor, f) => ({
          weight: kind.share * kind.steepness[s]! * kind.ceilings[c]! * kind.floors[f]!,
          past: pastHalfWay(steepness, middleOf(ceiling), middleOf(floor)),
        })),
      ),
    );
  });
}

const middleOf = ({ from, to }: Band): number => (from + to) / 2;

/** How far past its half-way point a curve reaches a rate of one half; infinite where it never does, or always did. */
function pastHalfWay(steepness: number, ceiling: number, floor: number): number {
  if (floor >= 0.5) return -Infinity;
  if (ceiling <= 0.5) return Infinity;
  const way = (0.5 - floor) / (ceiling - floor);
  return steepness === exponential ? Math.log(-Math.log2(1 - way)) : Math.log(way / (1 - way)) / steepness;
}
