import type { Steps } from '../../incremental/steps.ts';
import { mergedNamesOf } from '../../queries/names.ts';
import { dayText } from '../../reports/basisText.ts';
import { compareRoutesInSteps, type ComparedRoute } from '../../reports/compare/comparison.ts';
import { compareView } from '../../reports/panel/compareView.ts';
import { fileName } from '../documents/uris.ts';
import { remedies } from './remedies.ts';
import { emptySections, type SectionInput, type Sections } from './section.ts';

/** Two routes held against each other: the one that was chosen is A, the one that the panel is of is B. */
export function* compareSection({ project, own, day, compared, params }: SectionInput): Steps<Sections> {
  const other = remedies(own, 'compare');
  if (params.compared === undefined) return { ...emptySections, message: nothingChosen, remedies: other };
  // The other route is read only where there is time to compare.
  if (compared === undefined || !params.wait) return { ...emptySections, pending: 'Comparing two routes' };
  if ('message' in compared) return { ...emptySections, message: compared.message, remedies: other };
  const here: ComparedRoute = { label: fileName(project.route.uri), project, own };
  const steps = compareRoutesInSteps(compared, here, { day, with: [] });
  const { report, answerDay, logsOf, times, untried } = yield* steps;
  const view = compareView(report, {
    title: '',
    basis: dayText(answerDay),
    ...mergedNamesOf(compared.project, project),
    logsOf,
    times,
    untried,
  });
  return { ...emptySections, compare: view, remedies: other };
}

const nothingChosen =
  'Nothing is compared yet. Choose another route, or an earlier version of this one from git: this view shows where the two differ.';
