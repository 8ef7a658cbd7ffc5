import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  differencesOfWren,
  learnedCurves,
  sharedPart,
  usualAttempts,
} from '../../../samples/simulation/differences.ts';
import { type Curve, curvesOfWren } from '../../../samples/simulation/learner.ts';
import { createRandom, type Random } from '../../../samples/simulation/random.ts';
import { readRoute } from '../../../samples/simulation/route.ts';

const routeText = readFileSync(join(import.meta.dirname, '../../../samples/lanternfall.route.yaml'), 'utf8');
const { difficulties } = readRoute(routeText);

/** Attempts of a gradual curve that is at its middle as late as this one: 1 - e^-ln 2 is one half. */
const attemptsOf = (curve: Curve): number => {
  if (curve.kind === 'settled') return Number.NaN;
  return curve.kind === 'gradual' ? curve.attempts : curve.stuckFor / Math.LN2 + curve.attempts;
};
/** The logarithm of how many times the usual attempts a curve takes. */
const differenceOf = (technique: string, curve: Curve): number =>
  Math.log(attemptsOf(curve) / usualAttempts[difficulties.get(technique)! - 1]!);
const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;
const covariance = (a: readonly number[], b: readonly number[]): number => {
  const [middleA, middleB] = [mean(a), mean(b)];
  return mean(a.map((value, i) => (value - middleA) * (b[i]! - middleB)));
};

describe('what is hard about a technique', () => {
  it('is written down for Wren as the curves have it', () => {
    const learned = Object.entries(curvesOfWren).filter(([, { kind }]) => kind !== 'settled');
    const found = learned.map(([technique, curve]) => differenceOf(technique, curve));
    const written = learned.map(([technique]) => differencesOfWren[technique]!);
    expect(Object.keys(differencesOfWren).sort()).toEqual(learned.map(([technique]) => technique).sort());
    for (const [at, [technique]] of learned.entries())
      expect(Math.abs(found[at]! - mean(found) - written[at]!), technique).toBeLessThan(0.02);
  });

  it('is shared by all with half of the variance, where Wren practised it and where not', () => {
    const [chance, ofWren] = [createRandom(5), createRandom(6)];
    const normal = (random: Random): number =>
      Array.from({ length: 12 }, random.next).reduce((sum, one) => sum + one, -6);
    const wrens = Array.from({ length: 20_000 }, () => normal(ofWren));
    const known = wrens.map((difference) => sharedPart(chance, difference));
    const unknown = wrens.map(() => sharedPart(chance, undefined));
    // Two runners' differences have variance 1 each and nothing in common but the shared part, so its variance is what they
    // have in common: a half. Four standard errors of it: about 0.02.
    for (const shared of [known, unknown])
      expect(Math.abs(covariance(shared, shared) - 0.5)).toBeLessThan(0.02);
    expect(Math.abs(covariance(known, wrens) - 0.5)).toBeLessThan(0.03);
  });

  it('is the same for the runners beside Wren, and each has a part of their own', () => {
    const many = new Map(Array.from({ length: 4000 }, (_, at) => [`t${at}`, 5]));
    const differences = [1, 2].map((luck) =>
      Object.values(learnedCurves(many, { luck, pace: 1, known: {} })).map((curve) =>
        Math.log(attemptsOf(curve) / usualAttempts[4]!),
      ),
    );
    const [one, other] = [differences[0]!, differences[1]!];
    // The variance of each is 1 and what they have in common a half; four standard errors: about 0.09 and 0.07.
    for (const own of [one, other]) expect(Math.abs(covariance(own, own) - 1)).toBeLessThan(0.09);
    expect(Math.abs(covariance(one, other) - 0.5)).toBeLessThan(0.07);
    expect(Math.abs(mean(one))).toBeLessThan(0.07);
  });

  it('leaves the pace of a runner as it is, and what they knew before', () => {
    const traits = { luck: 1, known: { 'crate-vault': 0.9 } };
    const quick = learnedCurves(difficulties, { ...traits, pace: 1 });
    const slow = learnedCurves(difficulties, { ...traits, pace: 3 });
    expect(quick['crate-vault']).toEqual({ kind: 'settled', rate: 0.9 });
    for (const technique of ['rope-swing', 'lens-align', 'chimney-kick']) {
      const times = attemptsOf(slow[technique]!) / attemptsOf(quick[technique]!);
      expect(Math.abs(times - 3), technique).toBeLessThan(0.05);
    }
  });
});
