import { resolveConstants } from '../../model/index.ts';
import type { ReviewParams, ViewResult } from '../../protocol/views.ts';
import { pageMarkdown } from '../../reports/page.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import { basisOf } from '../../reports/basisText.ts';
import { cautionFor } from '../../queries/overuseWarning.ts';
import { difficultiesOf, namesOf } from '../../queries/names.ts';
import { weekReview } from '../../reports/review/weekReviewReport.ts';
import { askedOf, routeName } from './rank.ts';
import type { Session } from '../server/session.ts';

/** What the last week says, as a page; or why that cannot be told. */
export function reviewView(session: Session, { uri }: ReviewParams): ViewResult {
  const asked = askedOf(session, uri);
  if ('message' in asked) return asked;
  const { project, own } = asked;
  const { estimates } = session;
  const question = estimates.question(project, own);
  const page = reviewPage(weekReview(project, question, estimates.cache(project)), {
    title: `Review: ${routeName(project)}`,
    basis: basisOf(own, question, estimates.day(own) === undefined ? 'last' : 'today'),
    names: namesOf(project),
    difficulties: difficultiesOf(project),
    offsetPerStep: resolveConstants(question.constants).midwayPerStep,
    caution: cautionFor(own, question.asOfDay),
  });
  return { markdown: pageMarkdown(page) };
}
