/** Where each technique stands now, without any forecast: cheap enough to show while the text is edited. */
import { logit } from './numbers.ts';
import { chanceAbove, practiceEstimate, runEstimate } from './skill/estimates.ts';
import { prepare } from './prepare.ts';
import type { RankCache } from './memory.ts';
import type { RankInput } from './prepare.ts';
import type { Assessment } from './types.ts';

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
  for (const [id, { posterior, logitsNow }] of prepared.subjects) {
    if (only && !only.has(id)) continue;
    const { breakEven } = prepared.valuer.now(id);
    assessments.set(id, {
      practiceNow: practiceEstimate(posterior, logitsNow),
      runNow: runEstimate(posterior, logitsNow, prepared.rates),
      breakEven,
      chanceAboveBreakEvenNow: breakEven === null ? 0 : chanceAbove(posterior, logitsNow, logit(breakEven)),
    });
  }
  return assessments;
}
