import type { RankCache } from '../model/memory.ts';
import { review } from '../model/review/review.ts';
import { reviewReport, type ReviewReport } from '../reports/reviewReport.ts';
import { difficultiesOf, namesOf } from './names.ts';
import type { Project } from './project.ts';
import type { Question } from './question.ts';

/** The review of a runner's last week. */
export function weekReview(project: Project, question: Question, cache?: RankCache): ReviewReport {
  return reviewReport(review(question, cache), {
    names: namesOf(project),
    difficulties: difficultiesOf(project),
  });
}
