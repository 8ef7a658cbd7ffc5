import { resolveConstants } from '../../model/index.ts';
import { counted } from '../../text/format.ts';
import { reviewJson } from '../../reports/review/reviewReport.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import { basisOf } from '../../reports/basisText.ts';
import { difficultiesOf, namesOf } from '../../queries/names.ts';
import { questionOf } from '../../queries/modelInput.ts';
import { weekReview } from '../../reports/review/weekReviewReport.ts';
import { asOfDay, type Request } from '../terminal/arguments.ts';
import { cautionFor } from '../../queries/overuseWarning.ts';
import { exit, printJson, tell, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { isUnusable, subjectOf, titleOf } from '../project/chosenRoute.ts';

/** `routewright review`: what the last week says. Returns the exit code. */
export async function review(request: Request, io: Io): Promise<number> {
  const subject = await subjectOf(request, io, 'review');
  if (isUnusable(subject)) {
    tell(io, subject.message);
    return exit.wrong;
  }
  const { project, own, loaded } = subject;
  const asked = asOfDay(request);
  const question = questionOf(project, own, { asOf: asked });
  const what = `Looking back on ${counted(project.techniques.size, 'technique')}`;
  const report = withProgress(io, what, () => weekReview(project, question));
  if (request.switches.has('json')) printJson(io, reviewJson(report));
  else {
    const page = reviewPage(report, {
      title: titleOf(project, io),
      basis: basisOf(own, question, asked === undefined ? 'last' : 'asked'),
      names: namesOf(project),
      difficulties: difficultiesOf(project),
      offsetPerStep: resolveConstants(question.constants).midwayPerStep,
      caution: cautionFor(own, question.asOfDay),
    });
    printPage(io, page);
  }
  if (loaded.refused.length > 0) return exit.wrong;
  const { practice, runs } = question.logs;
  return practice.length + runs.length === 0 ? exit.findings : exit.fine;
}
