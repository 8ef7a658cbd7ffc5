import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { ModelCache } from '../../model/core/modelCache.ts';
import { reviewWeekInSteps } from '../../model/review/reviewWeek.ts';
import { reviewReport, type ReviewReport } from './reviewReport.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import type { Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';

/** The review of a runner's last week. */
export const weekReviewReport = inOneGo(weekReviewReportInSteps);

/** The same in steps. */
export function* weekReviewReportInSteps(
  project: Project,
  modelInput: ModelInput,
  cache?: ModelCache,
): Steps<ReviewReport> {
  return reviewReport(yield* reviewWeekInSteps(modelInput, cache), {
    names: techniqueNamesOf(project),
    difficulties: difficultiesOf(project),
  });
}
