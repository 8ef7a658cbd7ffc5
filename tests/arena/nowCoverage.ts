/** How often the range that the tool gives for a landing rate in practice holds the true one, on simulated runners. */
import type { Constants } from '../../server/src/model/index.ts';
import { prepareModel } from '../../server/src/model/run/preparedModel.ts';
import { practiceEstimate } from '../../server/src/model/skill/rateEstimates.ts';
import { savePerDifficulty } from './policies/handRules.ts';
import { sameFour } from './policies/lookingBack.ts';
import { createRunner, simulate } from './simulate.ts';
import { kinds } from './truth/kinds.ts';
import { firstDay, routeOf } from './world.ts';

/** Techniques with fewer tries in practice are not counted. */
const leastTries = 60;

/** Most techniques of a route, so that a runner takes a tenth of a second. */
const mostTechniques = 20;

export interface Coverage {
  /** Estimates of practised techniques after two and after four weeks. */
  readonly count: number;
  /** Shares of them whose range holds the true rate, lies above it, and lies below it. */
  readonly held: number;
  readonly above: number;
  readonly below: number;
}

/**
 * Coverage of the ranges of the rate in practice on a morning, for the runners of a kind with seeds from `seed` on. They practise by
 * hand rules, by turns two different ones, so that the logs do not depend on the model.
 *
 * @param constants constants that replace the defaults: a planted fault
 */
export function coverageNow(
  kind: string,
  runners: number,
  seed: number,
  constants?: Partial<Constants>,
): Coverage {
  const counts = { held: 0, above: 0, below: 0 };
  for (let number = 0; number < runners; number++) {
    const runner = createRunner(kinds[kind]!, seed + number, 0, mostTechniques);
    const { world, truth } = runner;
    simulate(runner, number % 2 === 0 ? savePerDifficulty : sameFour, (day, state, { logs, tallies }) => {
      if (day !== 14 && day !== 28) return;
      const { fittedTechniques } = prepareModel({
        route: routeOf(
          world,
          (i) => tallies[i]!.inRun,
          (i) => tallies[i]!.blocks.length > 0,
        ),
        logs: { practice: [...logs.practice], runs: [...logs.runs] },
        asOfDay: firstDay + day,
        options: { blockMinutes: world.blockMinutes, confidence: 0.8, all: true },
        constants: constants ?? {},
      });
      world.skills.forEach(({ id }, i) => {
        if (tallies[i]!.blocks.reduce((sum, { tries }) => sum + tries, 0) < leastTries) return;
        const { posterior, logitsNow } = fittedTechniques.get(id)!;
        const { low, high } = practiceEstimate(posterior, logitsNow);
        const rate = truth.learnings[i]!.rate(state[i]!);
        counts[rate < low ? 'above' : rate > high ? 'below' : 'held']++;
      });
    });
  }
  const count = counts.held + counts.above + counts.below;
  return { count, held: counts.held / count, above: counts.above / count, below: counts.below / count };
}
