import { expect, test } from 'vitest';
import type { Constants } from '../../../../server/src/model/core/constants.ts';
import { ModelCache } from '../../../../server/src/model/core/modelCache.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import { practiceEstimate, runEstimate } from '../../../../server/src/model/skill/rateEstimates.ts';
import { priorRunner } from '../../../helpers/priorRunners.ts';

interface Share {
  readonly practice: number;
  readonly runs: number;
}

/**
 * Share of runners whose true rate lies between the 10 and the 90 % point, by place of the technique in the runner's
 * list: one a runner and place, so that the counts are binomial.
 */
function covered(runners: number, mistaken: Partial<Constants> = {}): Share[] {
  const counts = [0, 1, 2].map(() => ({ practice: 0, runs: 0 }));
  // The grids of learning curves are the same for all runners.
  const cache = new ModelCache();
  for (let seed = 5000; seed < 5000 + runners; seed++) {
    const { truths, input } = priorRunner(seed);
    const { fittedTechniques, rates } = prepareModel({ ...input, constants: mistaken }, cache);
    truths.forEach(({ id, practiceNow, runLogit }, i) => {
      const { posterior, logitsNow } = fittedTechniques.get(id)!;
      const inPractice = practiceEstimate(posterior, logitsNow);
      const inRuns = runEstimate(posterior, logitsNow, rates);
      const runNow = 1 / (1 + Math.exp(-runLogit));
      if (practiceNow >= inPractice.low && practiceNow <= inPractice.high) counts[i]!.practice++;
      if (runNow >= inRuns.low && runNow <= inRuns.high) counts[i]!.runs++;
    });
  }
  return counts.map(({ practice, runs }) => ({ practice: practice / runners, runs: runs / runners }));
}

// S: 99.9 % band of a binomial share, 3.29 standard errors (any table of the normal distribution).
const band = (runners: number): number => 3.29 * Math.sqrt((0.8 * 0.2) / runners);

test('80 % intervals of the landing rate now, in practice and in a run, cover 80 % of simulated runners', () => {
  for (const { practice, runs } of covered(600)) {
    expect(Math.abs(practice - 0.8)).toBeLessThan(band(600));
    expect(Math.abs(runs - 0.8)).toBeLessThan(band(600));
  }
});

test('intervals of a model that takes days to be alike are seen to be too narrow', () => {
  const [first] = covered(400, { concentration: 1e4 });
  expect(first!.practice).toBeLessThan(0.8 - band(400));
});
