/**
 * How the runners beside Wren learn. A technique takes each of them another number of attempts than its difficulty says:
 * half of the variance of that is the technique's own, the same for everybody, and half is the runner's with it.
 */
import type { Curve } from './learner.ts';
import { createRandom, type Random } from './random.ts';

/**
 * What a technique's difference is for Wren, whose curves were written by hand: the logarithm of how many times the usual
 * attempts it takes, less Wren's mean. `tests/unit/samples/differences.test.ts` works them out from the curves.
 */
export const differencesOfWren: Readonly<Record<string, number>> = {
  'rope-swing': 0.56,
  'stair-weave': 0.02,
  'wall-kick': 0.47,
  'barrow-boost': -0.17,
  'lens-align': -0.62,
  'lamp-clip': 0.3,
  'oil-pickup': -0.28,
  'oil-slick': -0.38,
  'bell-cancel': -0.17,
  'chimney-kick': 0.64,
  'tide-skip': -0.37,
};

/** Attempts in which the gap to the ceiling usually shrinks to about 37 %, by difficulty from 1; each step is 1.8 times more. */
export const usualAttempts: readonly number[] = [20, 36, 65, 117, 210, 378, 680, 1224, 2204, 3967];

/** Techniques that come suddenly, whoever learns them. */
const sudden: ReadonlySet<string> = new Set(['chimney-kick', 'tide-skip', 'gable-cut']);

/** What a runner is like before the first day of the logs. */
export interface LearnerTraits {
  /** Makes the runner's own part of each difference, whatever the seed of the logs. */
  readonly luck: number;
  /** How many times the usual attempts this runner takes. */
  readonly pace: number;
  /** Techniques learned long before, with their landing rates in practice. */
  readonly known: Readonly<Record<string, number>>;
}

const sharedLuck = 4100;
/** Square root of a half: two parts of this spread are one of spread 1. */
const half = 0.7071;

/**
 * The curves of a runner with these traits.
 *
 * @param difficulties of every technique of the route, 1 to 10, in the order in which they are drawn
 */
export function learnedCurves(
  difficulties: ReadonlyMap<string, number>,
  { luck, pace, known }: LearnerTraits,
): Readonly<Record<string, Curve>> {
  const [shared, own] = [createRandom(sharedLuck), createRandom(sharedLuck + luck)];
  const curves: Record<string, Curve> = {};
  // Every technique is drawn for every runner, in the same order: what is shared has to come out the same.
  for (const [technique, difficulty] of difficulties) {
    const difference = sharedPart(shared, differencesOfWren[technique]) + half * bell(own);
    const attempts = Math.round((usualAttempts[difficulty - 1] ?? 0) * pace * exponential(difference));
    curves[technique] = curveOf(technique, attempts, own);
  }
  for (const [technique, rate] of Object.entries(known)) curves[technique] = { kind: 'settled', rate };
  return curves;
}

/**
 * The part of a technique's difference that all runners share, with half of their variance. Where Wren's whole difference
 * is known, the other half of the variance lies between the two: so Wren shares it with the others, too.
 *
 * @param ofWren left out: Wren does not practise the technique
 */
export function sharedPart(random: Random, ofWren: number | undefined): number {
  const chance = bell(random);
  return ofWren === undefined ? half * chance : 0.5 * ofWren + 0.5 * chance;
}

function curveOf(technique: string, attempts: number, random: Random): Curve {
  const ceiling = hundredths(random.between(0.74, 0.94));
  const start = hundredths(random.between(0.04, 0.2));
  if (!sudden.has(technique)) return { kind: 'gradual', start, ceiling, attempts };
  // As long as a gradual one until the middle, most of it without any progress.
  return {
    kind: 'plateau',
    lucky: hundredths(start / 3),
    ceiling,
    stuckFor: Math.round(0.6 * attempts),
    attempts: Math.max(40, Math.round(0.13 * attempts)),
  };
}

/** Mean 0 and standard deviation 1: twelve uniform numbers have variance 1 in all. */
function bell(random: Random): number {
  let sum = -6;
  for (let i = 0; i < 12; i += 1) sum += random.next();
  return sum;
}

/** The exponential, to a few thousandths, by multiplications only: those give the same digits on every platform. */
function exponential(value: number): number {
  let power = 1 + value / 1024;
  for (let i = 0; i < 10; i += 1) power *= power;
  return power;
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}
