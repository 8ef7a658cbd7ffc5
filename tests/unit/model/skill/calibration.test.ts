import { describe, expect, test } from 'vitest';
import { chanceRunRateAbove } from '../../../../server/src/model/skill/rateEstimates.ts';
import { ModelCache } from '../../../../server/src/model/core/modelCache.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import { marginalWeights } from '../../../../server/src/model/skill/runnerPosterior.ts';
import type { Constants } from '../../../../server/src/model/core/constants.ts';
import { chance } from '../../../arena/random.ts';
import { priorRunner } from '../../../helpers/priorRunners.ts';
import { chiSquareOfRanks, rankInBell, rankOfMidway, rankOfPractice } from '../../../helpers/ranks.ts';

const runners = 600;
const bins = 20;

// S: chi-square with 19 degrees of freedom, 99.9 % point (any table): 43.82. Five ranks, one seed: a model that is
// right would have failed here once in two hundred seeds.
const mostChiSquare = 43.82;

const asked = ['offset', 'pressure', 'midway', 'practiceNow', 'runNow'] as const;
type Ranks = Record<(typeof asked)[number], number[]>;

/**
 * Simulation-based calibration (S: Talts, Betancourt, Simpson, Vehtari & Gelman 2018, arXiv 1804.06788): runners drawn
 * from the prior, logs drawn from the runners, and where the truth then stands in the posterior. One technique a
 * runner, since those of one runner are not independent.
 */
function ranksOfTruth(mistaken: Partial<Constants> = {}): Ranks {
  const ranks: Ranks = { offset: [], pressure: [], midway: [], practiceNow: [], runNow: [] };
  const ties = chance(77);
  // The grids of learning curves are the same for all runners.
  const cache = new ModelCache();
  for (let seed = 0; seed < runners; seed++) {
    const { offset, pressure, truths, input } = priorRunner(seed);
    const { runner, fittedTechniques: subjects } = prepareModel({ ...input, constants: mistaken }, cache);
    ranks.offset.push(rankInBell(runner.offsets, marginalWeights(runner, 'offset'), offset));
    ranks.pressure.push(rankInBell(runner.pressures, marginalWeights(runner, 'pressure'), pressure));
    const truth = truths[Math.floor(seed / 4) % truths.length]!;
    const { posterior, levelNow, logitsNow } = subjects.get(truth.id)!;
    ranks.midway.push(rankOfMidway(posterior, truth.midway));
    ranks.practiceNow.push(rankOfPractice(posterior, levelNow, truth.practiceNow, ties.next()));
    ranks.runNow.push(1 - chanceRunRateAbove(posterior, logitsNow, truth.runLogit));
  }
  return ranks;
}

function unevenness(ranks: Ranks): Record<string, number> {
  return Object.fromEntries(asked.map((name) => [name, chiSquareOfRanks(ranks[name], bins)]));
}

describe('simulation-based calibration', () => {
  test('the truth stands anywhere in the posterior, each place as often as any other', () => {
    for (const [name, value] of Object.entries(unevenness(ranksOfTruth()))) {
      expect(value, name).toBeLessThan(mostChiSquare);
    }
  });

  test('a posterior that takes days to be alike is found out: it is too sure of the rate', () => {
    const { practiceNow } = unevenness(ranksOfTruth({ concentration: 1e4 }));
    expect(practiceNow).toBeGreaterThan(mostChiSquare);
  });

  test('a posterior that takes techniques of one difficulty to be alike is found out: it is too sure of the curve', () => {
    const { midway } = unevenness(ranksOfTruth({ midwaySd: 0.4 }));
    expect(midway).toBeGreaterThan(mostChiSquare);
  });

  test('a posterior that expects too much pressure is found out: in the pressure and in the rates in runs', () => {
    const { pressure, runNow, practiceNow } = unevenness(ranksOfTruth({ pressureMean: 1 }));
    expect(pressure).toBeGreaterThan(mostChiSquare);
    expect(runNow).toBeGreaterThan(mostChiSquare);
    // Pressure says nothing about practice, and that is still right.
    expect(practiceNow).toBeLessThan(mostChiSquare);
  });
});
