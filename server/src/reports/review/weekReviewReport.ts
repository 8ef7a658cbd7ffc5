import type { ModelCache } from '../../model/core/modelCache.ts';
import { reviewWeek } from '../../model/review/reviewWeek.ts';
import { reviewReport, type ReviewReport } from './reviewReport.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import type { Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';

/** The review of a runner's last week. */
export function weekReviewReport(project: Project, modelInput: ModelInput, cache?: ModelCache): ReviewReport {
  return reviewReport(reviewWeek(modelInput, cache), {
    names: techniqueNamesOf(project),
    difficulties: difficultiesOf(project),
  });
}
