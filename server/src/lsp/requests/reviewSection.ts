import type { Steps } from '../../incremental/steps.ts';
import { resolveConstants } from '../../model/index.ts';
import { difficultiesOf } from '../../queries/names.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { basisText } from '../../reports/basisText.ts';
import { reviewView } from '../../reports/panel/reviewView.ts';
import { reviewReport } from '../../reports/review/reviewReport.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import type { Remedy } from '../../protocol/panel/remedies.ts';
import { remedies } from './remedies.ts';
import { emptySections, type SectionInput, type Sections } from './section.ts';

/** The review of the last week: what landed against what was expected, and where each technique stands. */
export function* reviewSection({
  reports,
  project,
  own,
  modelInput,
  answerDay,
  names,
  params,
}: SectionInput): Steps<Sections> {
  const { report: review, fresh } = yield* reports.review(project, modelInput, params.wait);
  const pending = fresh ? null : 'Looking back on the week';
  if (!review) return { ...emptySections, pending };
  const difficulties = difficultiesOf(project);
  const report = reviewReport(review, { names: names.techniques, difficulties });
  const page = reviewPage(report, {
    title: '',
    basis: basisText(own, modelInput, answerDay),
    names: names.techniques,
    difficulties,
    offsetPerStep: resolveConstants(modelInput.constants).midwayPerStep,
    caution: overuseWarning(own, modelInput.asOfDay),
    periodTold: true,
  });
  const view = reviewView(report, page, names);
  const lacks: Remedy[] = [
    ...(modelInput.logs.practice.length > 0 ? [] : (['log-block'] as const)),
    // Without a try in a run of the week no slip can be looked for.
    ...(view.rows.length > 0 ? [] : (['log-run'] as const)),
  ];
  return { ...emptySections, review: view, remedies: remedies(own, ...lacks), pending };
}
