import type { Steps } from '../../incremental/steps.ts';
import { mergedNamesOf } from '../../queries/names.ts';
import { dayText } from '../../reports/basisText.ts';
import { isRefusal } from '../../protocol/refusal.ts';
import { comparisonInputInSteps, type ComparedRoute } from '../../reports/compare/comparison.ts';
import { compareView } from '../../reports/panel/compareView.ts';
import { fileName } from '../documents/uris.ts';
import { remedies } from './remedies.ts';
import { emptySections, type SectionInput, type Sections } from './section.ts';

/** Two routes held against each other: the one that was chosen is A, the one that the panel is of is B. */
export function* compareSection({
  reports,
  project,
  own,
  day,
  compared,
  params,
}: SectionInput): Steps<Sections> {
  const other = remedies(own, 'compare');
  if (params.compared === undefined) return { ...emptySections, message: nothingChosen, remedies: other };
  if (compared !== undefined && isRefusal(compared))
    return { ...emptySections, message: compared.message, remedies: other };
  // The other route is read only where there is time to compare.
  const now = params.wait ? compared : undefined;
  const here: ComparedRoute = { label: fileName(project.route.uri), project, own };
  const { report, fresh } = yield* reports.comparison(
    project,
    params.compared,
    now && { other: now.project, input: yield* comparisonInputInSteps(now, here, { day }) },
  );
  const pending = fresh ? null : 'Comparing two routes';
  if (!report) return { ...emptySections, pending };
  const { report: numbers, answerDay, logsOf, times, untried } = report.comparison;
  const view = compareView(numbers, {
    basis: dayText(answerDay),
    ...mergedNamesOf(now?.project ?? report.other, project),
    logsOf,
    times,
    untried,
  });
  return { ...emptySections, compare: view, remedies: other, pending };
}

const nothingChosen =
  'Nothing is compared yet. Choose another route, or an earlier version of this one from git: this view shows where the two differ.';
