/**
 * The estimates against the same integral worked out another way: learners drawn from the prior, each weighed by the chance of what was
 * counted (self-normalised importance sampling, e.g. Robert & Casella, Monte Carlo Statistical Methods, from memory). Nothing of
 * the model's grids is used: levels, curves and chances are written here, and of the constants only their values are taken.
 */
import betaln from '@stdlib/math-base-special-betaln';
import { expect, test } from 'vitest';
import { assess, defaultConstants as usual } from '../../server/src/model/index.ts';
import type { Constants } from '../../server/src/model/index.ts';
import { chance } from '../arena/random.ts';
import { block, plainOptions, route, runTries, segment, technique, use } from '../helpers/invented.ts';
import { dayConcentration, drawCurve, drawLearner } from '../helpers/priorCurves.ts';

/** Blocks of so many minutes on consecutive days, then an evening of runs on the day after. */
interface Logged {
  readonly id: string;
  readonly difficulty: number;
  readonly minutes: number;
  readonly blocks: readonly (readonly [landed: number, tries: number])[];
  readonly runs?: readonly [landed: number, tries: number];
}

interface Told {
  readonly practice: Spread;
  readonly run: Spread;
}

interface Spread {
  readonly mean: number;
  readonly low: number;
  readonly high: number;
}

/** The scale of difficulties and cold starts are left out: they are point estimates, not part of the integral. */
const constants = { midwayPerStepSd: 0, coldStartSd: 0 };

const morning = 5;

function byModel(logs: readonly Logged[], planted: Partial<Constants> = {}): Map<string, Told> {
  const told = assess({
    route: route(
      logs.map(({ id }) => segment(`s-${id}`, 60, [use(id, 3, 1)])),
      logs.map(({ id, difficulty }) => technique(id, { difficulty, state: 'learning' })),
    ),
    logs: {
      practice: logs.flatMap(({ id, blocks, minutes }) =>
        blocks.map(([landed, tries], day) => block(id, day, landed, tries, { minutes, order: day })),
      ),
      runs: logs.flatMap(({ id, runs }) => (runs ? [runTries(id, 4, ...runs)] : [])),
    },
    asOfDay: morning,
    options: plainOptions,
    constants: { ...constants, ...planted },
  });
  return new Map(
    [...told].map(([id, { practiceNow, runNow }]) => [id, { practice: practiceNow, run: runNow }]),
  );
}

const levelOf = (effective: number): number => Math.log(1 + effective / usual.unitPractice);

/** Levels of practice at which the counts of each block and of the runs were made, and the one on the morning. */
function levelsOf({ blocks, minutes, runs }: Logged) {
  const tau = usual.daySaturation;
  const forget = (effective: number, days: number): number =>
    usual.unitPractice * ((1 + effective / usual.unitPractice) ** (2 ** (-days / usual.halfLife)) - 1);
  let effective = 0;
  const atBlocks = blocks.map(([, tries]) => {
    const dose = ((tries * tau) / minutes) * (1 - Math.exp(-minutes / tau));
    const at = levelOf(effective + dose / 2);
    effective += dose * (1 + usual.overnightGain);
    return at;
  });
  // The last block was on day blocks.length − 1; nights without practice follow until the runs of day 4.
  const beforeRuns = forget(effective, 4 - blocks.length);
  if (runs === undefined)
    return { atBlocks, atRuns: 0, now: levelOf(forget(effective, morning - blocks.length)) };
  const [, tries] = runs;
  return {
    atBlocks,
    atRuns: levelOf(beforeRuns + tries / 2),
    now: levelOf(beforeRuns + tries * (1 + usual.overnightGain)),
  };
}

const kept = (rate: number): number => Math.min(1 - usual.rateFloor, Math.max(usual.rateFloor, rate));
const inRun = (rate: number, loss: number): number => {
  const odds = (rate / (1 - rate)) * Math.exp(-loss);
  return kept(odds / (1 + odds));
};

function logChance([landed, tries]: readonly [number, number], rate: number): number {
  const concentration = dayConcentration(rate);
  const [a, b] = [rate * concentration, (1 - rate) * concentration];
  return betaln(a + landed, b + tries - landed) - betaln(a, b);
}

function spreadOf(values: readonly number[], weights: readonly number[]): Spread {
  const order = [...values.keys()].sort((a, b) => values[a]! - values[b]!);
  const total = weights.reduce((a, b) => a + b, 0);
  const at = (share: number): number => {
    let sum = 0;
    return values[order.find((i) => (sum += weights[i]!) >= share * total)!]!;
  };
  const mean = values.reduce((sum, value, i) => sum + value * weights[i]!, 0) / total;
  return { mean, low: at(0.1), high: at(0.9) };
}

/** By `draws` learners from the prior; how many equal weights theirs are worth is given, too. */
function bySampling(logs: readonly Logged[], draws: number, seed: number) {
  const random = chance(seed);
  const next = (): number => random.next();
  const levels = logs.map(levelsOf);
  const rates = logs.map(() => ({ practice: [] as number[], run: [] as number[] }));
  const logWeights: number[] = [];
  for (let draw = 0; draw < draws; draw++) {
    const kind = drawLearner(next);
    const offset = usual.offsetSd * random.normal();
    const pressure = usual.pressureMean + usual.pressureSd * random.normal();
    let log = 0;
    logs.forEach(({ difficulty, blocks, runs }, i) => {
      const curve = drawCurve(kind, next);
      const midway =
        usual.midwayAtEasiest +
        usual.midwayPerStep * (difficulty - 1) -
        offset +
        usual.midwaySd * random.normal();
      const loss = pressure + usual.ownPressureSd * random.normal();
      const rateAt = (level: number): number => kept(curve.rateAt(level - midway));
      blocks.forEach((count, b) => (log += logChance(count, rateAt(levels[i]!.atBlocks[b]!))));
      if (runs) log += logChance(runs, inRun(rateAt(levels[i]!.atRuns), loss));
      const now = rateAt(levels[i]!.now);
      rates[i]!.practice.push(now);
      rates[i]!.run.push(inRun(now, loss));
    });
    logWeights.push(log);
  }
  const top = logWeights.reduce((a, b) => Math.max(a, b), -Infinity);
  const weights = logWeights.map((log) => Math.exp(log - top));
  const total = weights.reduce((a, b) => a + b, 0);
  return {
    worth: total ** 2 / weights.reduce((sum, weight) => sum + weight ** 2, 0),
    told: new Map(
      logs.map(({ id }, i): [string, Told] => [
        id,
        { practice: spreadOf(rates[i]!.practice, weights), run: spreadOf(rates[i]!.run, weights) },
      ]),
    ),
  };
}

const cases: readonly (readonly [string, readonly Logged[]])[] = [
  ['one block', [{ id: 'kick', difficulty: 4, minutes: 20, blocks: [[9, 40]] }]],
  [
    'three days and an evening of runs',
    [
      {
        id: 'kick',
        difficulty: 6,
        minutes: 25,
        blocks: [
          [2, 60],
          [9, 60],
          [20, 60],
        ],
        runs: [6, 20],
      },
    ],
  ],
  [
    'two techniques of one runner, one of them in runs',
    [
      {
        id: 'kick',
        difficulty: 3,
        minutes: 20,
        blocks: [
          [22, 50],
          [31, 50],
        ],
        runs: [4, 15],
      },
      { id: 'dive', difficulty: 7, minutes: 20, blocks: [[1, 40]] },
    ],
  ],
  [
    'nothing landed',
    [
      {
        id: 'kick',
        difficulty: 8,
        minutes: 25,
        blocks: [
          [0, 70],
          [0, 70],
        ],
      },
    ],
  ],
];

/** Four standard errors of the sampling, and what the grid, its rounded priors and its tables may be off. */
const tolerance = (spread: number, worth: number): number => (4 * spread) / Math.sqrt(worth) + 0.004;

/** How far the model's answers are from the sampled ones, in parts of what is allowed. */
function farOff(logs: readonly Logged[], planted: Partial<Constants> = {}): number[] {
  const told = byModel(logs, planted);
  const { told: sampled, worth } = bySampling(logs, 200_000, 417);
  expect(worth).toBeGreaterThan(2000);
  return logs.flatMap(({ id }) =>
    (['practice', 'run'] as const).flatMap((of) => {
      const [here, there] = [told.get(id)![of], sampled.get(id)![of]];
      const allowed = tolerance((there.high - there.low) / 2.56, worth);
      // Quantiles are less certain than means: about two times at a tenth of a normal distribution.
      return [
        Math.abs(here.mean - there.mean) / allowed,
        Math.abs(here.low - there.low) / (2 * allowed),
        Math.abs(here.high - there.high) / (2 * allowed),
      ];
    }),
  );
}

test.each(cases)('%s: as the learners that explain it', (_, logs) => {
  expect(Math.max(...farOff(logs))).toBeLessThan(1);
});

test.each([
  ['takes days to be alike', { concentration: 1e6 }],
  ['takes techniques to lose alike in runs', { ownPressureSd: 0.05 }],
  ['expects no pressure', { pressureMean: 0 }],
  ['takes nights to be worth a whole day', { overnightGain: 1 }],
])('a model that %s is found out', (_, planted) => {
  expect(Math.max(...farOff(cases[1]![1], planted))).toBeGreaterThan(1);
});
