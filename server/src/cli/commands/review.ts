import { resolveConstants } from '../../model/index.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { basisText } from '../../reports/basisText.ts';
import { reviewJson } from '../../reports/review/reviewReport.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import { weekReviewReport } from '../../reports/review/weekReviewReport.ts';
import { formatCount } from '../../text/format.ts';
import { titleOf } from '../project/titleOf.ts';
import { chooseRoute } from '../route/chooseRoute.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, withProgress } from '../terminal/io.ts';
import { asOfDay } from '../terminal/optionValues.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright review`: what the logs of the last week show. */
export async function review(request: Request, io: Io): Promise<CommandResult> {
  const chosenRoute = await chooseRoute(request, io, 'review');
  if (isCliError(chosenRoute)) return chosenRoute;
  const { project, own, loaded } = chosenRoute;
  const asOf = asOfDay(request);
  const modelInput = buildModelInput(project, own, { asOf });
  const progress = `Looking back on ${formatCount(project.techniques.size, 'technique')}`;
  const report = withProgress(io, progress, () => weekReviewReport(project, modelInput));
  if (request.switches.has('json')) printJson(io, reviewJson(report));
  else {
    const page = reviewPage(report, {
      title: titleOf(project, io),
      basis: basisText(own, modelInput, asOf === undefined ? 'last' : 'asked'),
      names: techniqueNamesOf(project),
      difficulties: difficultiesOf(project),
      offsetPerStep: resolveConstants(modelInput.constants).midwayPerStep,
      caution: overuseWarning(own, modelInput.asOfDay),
    });
    printPage(io, page);
  }
  if (loaded.refused.length > 0) return exitCodes.wrong;
  const { practice, runs } = modelInput.logs;
  return practice.length + runs.length === 0 ? exitCodes.findings : exitCodes.fine;
}
