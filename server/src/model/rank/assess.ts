/** Where each technique stands now, without any forecast: cheap enough to show while the text is edited. */
import { logit } from '../core/numbers.ts';
import { chanceAbove, practiceEstimate, runEstimate } from '../skill/rateEstimates.ts';
import { prepare } from '../run/preparedModel.ts';
import type { RankCache } from '../../incremental/memoCache.ts';
import type { Prepared, RankInput, Subject } from '../run/preparedModel.ts';
import type { Assessment } from '../core/types.ts';

/**
 * Landing rates, break-even and the chance to be above it, by id.
 *
 * @param only the techniques asked about; left out: every technique of the route
 */
export function assess(
  input: RankInput,
  cache?: RankCache,
  only?: ReadonlySet<string>,
): Map<string, Assessment> {
  const prepared = prepare(input, cache);
  const assessments = new Map<string, Assessment>();
  for (const subject of prepared.subjects.values()) {
    const { id } = subject.technique;
    if (!only || only.has(id)) assessments.set(id, assessOne(prepared, subject));
  }
  return assessments;
}

/** The same for one technique of what is prepared already. */
export function assessOne(
  { rates, valuer }: Prepared,
  { technique, posterior, logitsNow }: Subject,
): Assessment {
  const { breakEven } = valuer.now(technique.id);
  return {
    practiceNow: practiceEstimate(posterior, logitsNow),
    runNow: runEstimate(posterior, logitsNow, rates),
    breakEven,
    chanceAboveBreakEvenNow: breakEven === null ? 0 : chanceAbove(posterior, logitsNow, logit(breakEven)),
  };
}
