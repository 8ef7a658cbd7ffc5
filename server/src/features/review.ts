import { resolveConstants } from '../model/index.ts';
import type { ReviewParams, ViewResult } from '../protocolViews.ts';
import { pageMarkdown } from '../reports/page.ts';
import { reviewPage } from '../reports/reviewText.ts';
import { basisOf } from '../workspace/basis.ts';
import { cautionFor } from '../workspace/caution.ts';
import { difficultiesOf, namesOf } from '../workspace/names.ts';
import { weekReview } from '../workspace/weekReview.ts';
import { askedOf, routeName } from './rank.ts';
import type { Session } from './session.ts';

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
