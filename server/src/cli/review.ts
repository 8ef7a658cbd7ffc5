import { resolveConstants } from '../model/index.ts';
import { counted } from '../reports/format.ts';
import { reviewJson } from '../reports/reviewReport.ts';
import { reviewPage } from '../reports/reviewText.ts';
import { basisOf } from '../workspace/basis.ts';
import { difficultiesOf, namesOf } from '../workspace/names.ts';
import { questionOf } from '../workspace/question.ts';
import { weekReview } from '../workspace/weekReview.ts';
import { asOfDay, type Request } from './arguments.ts';
import { cautionFor } from '../workspace/caution.ts';
import { exit, printJson, tell, withProgress, type Io } from './io.ts';
import { printPage } from './print.ts';
import { isUnusable, subjectOf, titleOf } from './subject.ts';

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
