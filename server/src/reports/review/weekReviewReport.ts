import type { RankCache } from '../../incremental/memoCache.ts';
import { review } from '../../model/review/reviewWeek.ts';
import { reviewReport, type ReviewReport } from './reviewReport.ts';
import { difficultiesOf, namesOf } from '../../queries/names.ts';
import type { Project } from '../../workspace/project.ts';
import type { Question } from '../../queries/modelInput.ts';

/** The review of a runner's last week. */
export function weekReview(project: Project, question: Question, cache?: RankCache): ReviewReport {
  return reviewReport(review(question, cache), {
    names: namesOf(project),
    difficulties: difficultiesOf(project),
  });
}
