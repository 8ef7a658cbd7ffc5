import type { RunnerSummary } from '../core/results.ts';
import { runnerEstimate } from '../skill/runnerPosterior.ts';
import type { PreparedModel } from './preparedModel.ts';

/** What the logs of all techniques tell of the runner. */
export function runnerSummary({ runner, constants, scaled }: PreparedModel): RunnerSummary {
  const usual = constants.midwayPerStep;
  return {
    offset: runnerEstimate(runner, 'offset'),
    pressure: runnerEstimate(runner, 'pressure'),
    step: usual > 0 ? scaled.midwayPerStep / usual : 1,
  };
}
