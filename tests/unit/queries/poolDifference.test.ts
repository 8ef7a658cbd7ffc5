/**
 * What somebody finds out who has two versions of a pool. They know the route and the tool, and have logs of many other runners of
 * the same kind to learn from: they subtract, and guess from the numbers how much the runner practised.
 */
import { beforeAll, expect, test } from 'vitest';
import { createRandom } from '../../../samples/simulation/random.ts';
import { combine } from '../../../server/src/model/pool/addUp.ts';
import { commonShares } from '../../../server/src/model/pool/commonParts.ts';
import type { PooledTechnique } from '../../../server/src/model/pool/pooledTechnique.ts';
import { asParts, contributionsOfTexts, partOfText, poolTextOf } from '../../helpers/pools.ts';
import { inventedBlocks, poolTechniques, practiceText } from '../../helpers/poolRunners.ts';
import { fitRidge } from '../../helpers/ridge.ts';

/** A technique of a runner: what their part of a pool says, and what they did. */
interface Case {
  readonly runner: number;
  readonly technique: string;
  readonly part: PooledTechnique;
  readonly tries: number;
  readonly landed: number;
}

const [learnedFrom, attacked] = [240, 80];
let known: readonly Case[];
let targets: readonly Case[];

/** From 2 to 25 nights, as many of each tenfold: other people's logs are of very different length. */
const nightsOf = (seed: number): number => Math.round(Math.exp(0.7 + 2.5 * ((seed * 0.618034) % 1)));

beforeAll(async () => {
  const seeds = Array.from({ length: learnedFrom + attacked }, (_, i) => 1000 + i);
  const blocks = seeds.map((seed) => inventedBlocks(seed, { nights: nightsOf(seed) }));
  const parts = await contributionsOfTexts(blocks.map((of) => practiceText(of)));
  const all = parts.flatMap((part, runner): Case[] =>
    // Who logged too little is in no pool.
    [...((part as typeof part | undefined)?.techniques ?? [])].map(([technique, said]) => {
      const own = blocks[runner]!.filter((block) => block.technique === technique);
      const sum = (of: 'tries' | 'landed') => own.reduce((total, block) => total + block[of], 0);
      return { runner, technique, part: said, tries: sum('tries'), landed: sum('landed') };
    }),
  );
  known = all.filter(({ runner }) => runner < learnedFrom);
  targets = all.filter(({ runner }) => runner >= learnedFrom);
});

/** All that the numbers of a technique may tell. */
function features(technique: string, part: PooledTechnique): number[] {
  const numbers = (['midway', 'suddenness', 'ceiling', 'floor'] as const).flatMap((property) =>
    commonShares.flatMap(({ name }) => part[property]![name]),
  );
  return [
    1,
    ...Object.keys(poolTechniques).map((id) => Number(id === technique)),
    ...numbers.map((number) => number / 20),
    ...numbers.map((number) => Math.log1p(Math.abs(number))),
  ];
}

type Count = (one: Case) => number;

/** How often a guess is within a factor of two of the truth. */
function within2(cases: readonly Case[], of: Count, guess: (one: Case) => number): number {
  const right = cases.filter((one) => Math.abs(guess(one) - Math.log(of(one))) <= Math.log(2));
  return right.length / cases.length;
}

/** Guesses the logarithm of a count from the numbers. */
function learnedGuess(cases: readonly Case[], of: Count, penalty: number): (one: Case) => number {
  const predict = fitRidge(
    cases.map(({ technique, part }) => features(technique, part)),
    cases.map((one) => Math.log(of(one))),
    penalty,
  );
  return ({ technique, part }) => predict(features(technique, part));
}

/** Guesses what is usual of the technique, without the numbers. */
function usualGuess(of: Count): (one: Case) => number {
  const middles = Object.keys(poolTechniques).map((id): [string, number] => {
    const counts = known.filter(({ technique }) => technique === id).map((one) => Math.log(of(one)));
    return [id, counts.sort((a, b) => a - b)[counts.length >> 1]!];
  });
  const byTechnique = new Map(middles);
  return ({ technique }) => byTechnique.get(technique)!;
}

const tries: Count = (one) => one.tries;
const landed: Count = (one) => Math.max(1, one.landed);

test('the difference of two pools is the part of the runners between them, to the last digit', async () => {
  const parts = await contributionsOfTexts([1, 2, 3, 4].map((seed) => practiceText(inventedBlocks(seed))));
  const [before, after] = [parts.slice(0, 3), parts].map((some) => partOfText(poolTextOf(asParts(some))));
  let compared = 0;
  for (const [id, told] of before!.techniques) {
    const own = parts[3]!.techniques.get(id);
    if (own === undefined) continue;
    const { runners, midway } = combine(after!.techniques.get(id)!, told, -1);
    expect({ runners, midway }).toEqual({ runners: 1, midway: own.midway });
    compared++;
  }
  expect(compared).toBeGreaterThan(0);
});

test('between two versions with one runner more it tells how much that runner practised: so they are not written', () => {
  const [guessed, usual] = [
    within2(targets, tries, learnedGuess(known, tries, 3)),
    within2(targets, tries, usualGuess(tries)),
  ];
  // Rounding hides little of one person: SECURITY.md says so with these figures.
  expect(usual).toBeCloseTo(0.57, 1);
  expect(guessed).toBeGreaterThan(0.85);
  expect(within2(targets, landed, learnedGuess(known, landed, 3))).toBeGreaterThan(
    within2(targets, landed, usualGuess(landed)) + 0.3,
  );
});

test('between two versions with three runners more it tells little more of one of them than what is usual', () => {
  const sumsOfThree = threesOf(known, 1);
  const threes = threesOf(targets, 2);
  const usual = within2(threes, tries, usualGuess(tries));
  for (const penalty of [3, 30, 300]) {
    const guessed = within2(threes, tries, learnedGuess(sumsOfThree, tries, penalty));
    expect(guessed).toBeLessThan(usual + 0.15);
  }
});

/** Each with the numbers of three runners in the place of their own. */
function threesOf(cases: readonly Case[], seed: number): Case[] {
  const random = createRandom(seed);
  return [...cases, ...cases].map((one) => {
    let { part } = one;
    const others = cases.filter(
      ({ technique, runner }) => technique === one.technique && runner !== one.runner,
    );
    for (let i = 0; i < 2; i++) {
      const [other] = others.splice(random.whole(0, others.length - 1), 1);
      part = combine(part, other!.part);
    }
    return { ...one, part };
  });
}
