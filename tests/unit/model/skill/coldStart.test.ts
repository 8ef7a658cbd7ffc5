import { describe, expect, test } from 'vitest';
import { MemoCache } from '../../../../server/src/incremental/memoCache.ts';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import type { PracticeEntry, RunEntry } from '../../../../server/src/model/core/types.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import type { RankInput } from '../../../../server/src/model/run/preparedModel.ts';
import { runnerEstimate } from '../../../../server/src/model/skill/runnerPosterior.ts';
import { beginnings, blockOrdersInSteps } from '../../../../server/src/model/skill/blockBeginnings.ts';
import {
  beginningPosterior,
  coldStartInSteps,
  withColdStart,
} from '../../../../server/src/model/skill/coldStart.ts';
import { chance } from '../../../arena/random.ts';
import { block, plainOptions, route, runTries, segment, technique, use } from '../../../helpers/invented.ts';
import { chiSquareOfRanks } from '../../../helpers/ranks.ts';

function entry(tape: string, at = 0): PracticeEntry {
  return { technique: 'a', day: at, order: 0, minutes: 25, tape };
}

/** Blocks of a runner: what the first try lacks, for how many tries, and the mean drift over a block; in log odds. */
function simulate(seed: number, blocks: number, lack: number, lasts: number, drift: number, tries = 60) {
  const random = chance(seed);
  return Array.from({ length: blocks }, (_, at) => {
    const level = 0.4 + 0.8 * random.normal();
    const own = drift + 0.6 * random.normal();
    const letters = Array.from({ length: tries }, (__, j) => {
      const logOdds = level + (own * j) / tries - lack * Math.exp(-j / lasts);
      return random.next() < 1 / (1 + Math.exp(-logOdds)) ? 'l' : 'm';
    });
    return entry(letters.join(''), at);
  });
}

function moved(practice: readonly PracticeEntry[], coldStartSd = 0.6, asOfDay = 1000): number {
  const constants = { ...defaultConstants, coldStartSd };
  return runToCompletion(coldStartInSteps(practice, asOfDay, constants, new MemoCache()));
}

const seeds = Array.from({ length: 10 }, (_, i) => 50 + i);
const meanOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

describe('what tapes say of the loss in runs', () => {
  test('nothing where there are none, or none that tells anything', () => {
    expect(moved([])).toBe(0);
    const silent = ['l', 'lm', 'l'.repeat(40), 'm'.repeat(40), ''].map((tape) => entry(tape));
    expect(moved(silent)).toBe(0);
    expect(moved([{ technique: 'a', day: 1, order: 1, minutes: 25 }])).toBe(0);
  });

  test('nothing where the runner takes all tries to be alike', () => {
    expect(moved(simulate(3, 40, 1.5, 8, 0), 0)).toBe(0);
  });

  test('a short block hardly moves it', () => {
    for (const seed of seeds)
      expect(Math.abs(moved(simulate(seed, 1, 1.5, 8, 0, 12)))).toBeLessThanOrEqual(0.1);
  });

  test('more where the first tries of blocks land less, and less where they land as often as the others', () => {
    // What is expected without tapes: a lack of 0.6 · √(2/π) = 0.48 log odds. Runs are expected to share half of what is more.
    const cold = meanOf(seeds.map((seed) => moved(simulate(seed, 40, 1.4, 8, 0))));
    const warm = meanOf(seeds.map((seed) => moved(simulate(seed, 40, 0, 8, 0))));
    const usual = meanOf(seeds.map((seed) => moved(simulate(seed, 40, 0.48, 8, 0))));
    expect(cold).toBeGreaterThan(0.2);
    expect(cold).toBeLessThan(0.46);
    expect(warm).toBeLessThan(-0.07);
    expect(warm).toBeGreaterThan(-0.25);
    expect(Math.abs(usual)).toBeLessThan(0.08);
  });

  test('learning within a block is not taken for a cold start', () => {
    const learning = meanOf(seeds.map((seed) => moved(simulate(seed, 40, 0, 8, 1))));
    expect(learning).toBeLessThan(0);
  });

  test('entries after the day of the answer do not count, and their order in the list does not matter', () => {
    const practice = simulate(4, 20, 1.4, 8, 0);
    expect(moved(practice, 0.6, -1)).toBe(0);
    expect(moved([...practice].reverse())).toBe(moved(practice));
  });

  test('is finite for tapes of one letter and of 100,000, and for tapes that the counts deny', () => {
    const long = 'lm'.repeat(50_000);
    const denied = { ...entry('lllmmmmmmmmm'), attempts: 3, counted: { landed: 90, tries: 90 } };
    const strange = [entry('l'), entry('m'), entry(long), entry(long.slice(1)), denied, entry('?'.repeat(30)), entry('l?'.repeat(30))]; // prettier-ignore
    for (const one of strange) expect(Number.isFinite(moved([one]))).toBe(true);
    expect(Number.isFinite(moved(strange))).toBe(true);
    expect(Number.isFinite(moved(strange, 1e-9))).toBe(true);
    expect(Number.isFinite(moved(strange, 3))).toBe(true);
  });
});

describe('simulation-based calibration (S: Talts et al. 2018, arXiv 1804.06788)', () => {
  // S: chi-square with 7 degrees of freedom, 99.9 % point (any table): 24.32.
  const mostChiSquare = 24.32;
  const random = chance(99);
  const drawn = Array.from({ length: 160 }, () => ({
    lack: Math.abs(0.6 * random.normal()),
    lasts: [3, 8, 20][random.whole(0, 2)]!,
    drift: 0.6 * random.normal(),
  }));
  const cache = new MemoCache();

  function unevenness(sd: number): number {
    const ranks = drawn.map(({ lack, lasts, drift }, seed) => {
      const practice = simulate(2000 + seed, 24, lack, lasts, drift, 40);
      const orders = runToCompletion(
        cache.getOrComputeInSteps(`${seed}`, [], () => blockOrdersInSteps(practice, new MemoCache())),
      )!;
      // Each point stands for what is nearest to it.
      return beginningPosterior(orders, sd).reduce((sum, weight, i) => {
        const at = beginnings[i]!.lack;
        const [low, high] = [Math.max(0, at - 0.1), at + 0.1];
        return sum + weight * Math.min(1, Math.max(0, (lack - low) / (high - low)));
      }, 0);
    });
    return chiSquareOfRanks(ranks, 8);
  }

  test('what the first try lacks stands anywhere in the posterior', () => {
    expect(unevenness(0.6)).toBeLessThan(mostChiSquare);
  }, 60_000);

  test('a posterior that expects less of it is found out', () => {
    expect(unevenness(0.2)).toBeGreaterThan(mostChiSquare);
  }, 60_000);
});

describe('a runner whose first tries land less often', () => {
  const ids = ['a', 'b', 'c'];
  /** Blocks of each technique that land about as often; what differs is the order of the tries. */
  const logsOf = (tape: string, runs: readonly RunEntry[] = []): RankInput => ({
    route: route(
      [
        segment(
          's',
          100,
          ids.map((id) => use(id, 4, 2)),
        ),
      ],
      ids.map((id) => technique(id)),
    ),
    logs: {
      practice: ids.flatMap((id, order) =>
        Array.from({ length: 12 }, (_, day) =>
          block(id, day, [...tape].filter((letter) => letter === 'l').length, tape.length, { order, tape }),
        ),
      ),
      runs,
    },
    asOfDay: 12,
    options: plainOptions,
  });
  const cold = 'mmmmmm' + 'llm'.repeat(18);
  const even = 'lml' + 'mllmlml'.repeat(8) + 'm';
  const mean = (input: RankInput): number => runnerEstimate(prepareModel(input).runner, 'pressure').mean;
  const untaped = (input: RankInput): RankInput => ({
    ...input,
    logs: { ...input.logs, practice: input.logs.practice.map(({ tape: _, ...one }) => one) },
  });

  test('is expected to lose more in runs before the first run is logged', () => {
    expect(mean(logsOf(cold))).toBeGreaterThan(mean(untaped(logsOf(cold))) + 0.15);
    expect(mean(logsOf(even))).toBeLessThan(mean(untaped(logsOf(even))) - 0.05);
    expect(mean({ ...logsOf(cold), constants: { coldStartSd: 0 } })).toBe(mean(untaped(logsOf(cold))));
  });

  test('is known by the runs once there are many', () => {
    const runs = ids.flatMap((id) => Array.from({ length: 12 }, (_, day) => runTries(id, day, 11, 20)));
    const apart = mean(logsOf(cold, runs)) - mean(untaped(logsOf(cold, runs)));
    expect(apart).toBeLessThan(0.6 * (mean(logsOf(cold)) - mean(untaped(logsOf(cold)))));
  });
});

describe('the constants with a cold start', () => {
  const cache = new MemoCache();

  test('are the same where nothing moved', () => {
    expect(withColdStart(defaultConstants, 0, cache)).toBe(defaultConstants);
  });

  test('have another expected loss, which is never a gain', () => {
    expect(withColdStart(defaultConstants, 0.3, cache).pressureMean).toBeCloseTo(0.7, 12);
    expect(withColdStart(defaultConstants, -0.3, cache).pressureMean).toBeCloseTo(0.1, 12);
    expect(withColdStart(defaultConstants, -2, cache).pressureMean).toBe(0);
    const gaining = { ...defaultConstants, pressureMean: -0.2 };
    expect(withColdStart(gaining, -0.3, cache).pressureMean).toBe(-0.2);
    expect(withColdStart(defaultConstants, 0.3, cache)).toBe(withColdStart(defaultConstants, 0.3, cache));
  });
});
