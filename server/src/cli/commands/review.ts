import { resolveConstants } from '../../model/index.ts';
import { formatCount } from '../../text/format.ts';
import { reviewJson } from '../../reports/review/reviewReport.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import { basisText } from '../../reports/basisText.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { weekReviewReport } from '../../reports/review/weekReviewReport.ts';
import { asOfDay, type Request } from '../terminal/arguments.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { exitCodes, printJson, printNotice, withProgress, type Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';
import { isInputError, chooseRoute, titleOf } from '../project/chosenRoute.ts';

/** `routewright review`: what the last week says. Returns the exit code. */
export async function review(request: Request, io: Io): Promise<number> {
  const subject = await chooseRoute(request, io, 'review');
  if (isInputError(subject)) {
    printNotice(io, subject.message);
    return exitCodes.wrong;
  }
  const { project, own, loaded } = subject;
  const asked = asOfDay(request);
  const question = buildModelInput(project, own, { asOf: asked });
  const what = `Looking back on ${formatCount(project.techniques.size, 'technique')}`;
  const report = withProgress(io, what, () => weekReviewReport(project, question));
  if (request.switches.has('json')) printJson(io, reviewJson(report));
  else {
    const page = reviewPage(report, {
      title: titleOf(project, io),
      basis: basisText(own, question, asked === undefined ? 'last' : 'asked'),
      names: techniqueNamesOf(project),
      difficulties: difficultiesOf(project),
      offsetPerStep: resolveConstants(question.constants).midwayPerStep,
      caution: overuseWarning(own, question.asOfDay),
    });
    printPage(io, page);
  }
  if (loaded.refused.length > 0) return exitCodes.wrong;
  const { practice, runs } = question.logs;
  return practice.length + runs.length === 0 ? exitCodes.findings : exitCodes.fine;
}
