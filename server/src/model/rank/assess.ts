/** How each technique lands and where it stands now, without a forecast: fast enough to be shown while the text is edited. */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { logit } from '../core/numbers.ts';
import { chanceRunRateAbove, practiceEstimate, runEstimate } from '../skill/rateEstimates.ts';
import { prepareModelInSteps } from '../run/preparedModel.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { PreparedModel, RankInput, FittedTechnique } from '../run/preparedModel.ts';
import { standingsOfInSteps } from '../standing/standings.ts';
import type { Standing } from '../core/standing.ts';
import type { Assessment } from '../core/results.ts';
import { resetWeightOf } from './resetPreference.ts';

/**
 * Standing, landing rates, break-even rate and the chance to be above it, by technique id.
 *
 * @param only ids of the techniques to assess; all techniques of the route if omitted
 */
export const assess = inOneGo(assessInSteps);

/** The same in steps. */
export function* assessInSteps(
  input: RankInput,
  cache?: ModelCache,
  only?: ReadonlySet<string>,
): Steps<Map<string, Assessment>> {
  const prepared = yield* prepareModelInSteps(input, cache);
  const standings = yield* standingsOfInSteps(input, prepared);
  const assessments = new Map<string, Assessment>();
  for (const subject of prepared.fittedTechniques.values()) {
    const { id } = subject.technique;
    if (only && !only.has(id)) continue;
    assessments.set(id, assessTechnique(input, prepared, subject, standings.get(id)!));
    yield;
  }
  return assessments;
}

/** Like {@link assess}, for one technique of a prepared model. */
export function assessTechnique(
  input: RankInput,
  { rates, valuer }: PreparedModel,
  { technique, posterior, logitsNow }: FittedTechnique,
  standing: Standing,
): Assessment {
  const { breakEven } = valuer.now(technique.id);
  return {
    standing,
    practiceNow: practiceEstimate(posterior, logitsNow),
    runNow: runEstimate(posterior, logitsNow, rates),
    breakEven,
    resetWeight: breakEven === null ? null : resetWeightOf(input, technique.id),
    chanceAboveBreakEvenNow:
      breakEven === null ? 0 : chanceRunRateAbove(posterior, logitsNow, logit(breakEven)),
  };
}
