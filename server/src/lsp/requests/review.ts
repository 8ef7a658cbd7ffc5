import { resolveConstants } from '../../model/index.ts';
import type { ReviewParams, ViewResult } from '../../protocol/messages/views.ts';
import { pageMarkdown } from '../../reports/page.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import { basisText } from '../../reports/basisText.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import { weekReviewReport } from '../../reports/review/weekReviewReport.ts';
import { resolveProject, routeName } from './rank.ts';
import type { Session } from '../server/session.ts';

/** What the last week says, as a page; or why that cannot be told. */
export function reviewView(session: Session, { uri }: ReviewParams): ViewResult {
  const asked = resolveProject(session, uri);
  if ('message' in asked) return asked;
  const { project, own } = asked;
  const { estimates } = session;
  const question = estimates.modelInput(project, own);
  const page = reviewPage(weekReviewReport(project, question, estimates.cache(project)), {
    title: `Review: ${routeName(project)}`,
    basis: basisText(own, question, estimates.day(own) === undefined ? 'last' : 'today'),
    names: techniqueNamesOf(project),
    difficulties: difficultiesOf(project),
    offsetPerStep: resolveConstants(question.constants).midwayPerStep,
    caution: overuseWarning(own, question.asOfDay),
  });
  return { markdown: pageMarkdown(page) };
}
