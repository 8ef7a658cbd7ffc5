import { resolveConstants } from '../../model/index.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { difficultiesOf, techniqueNamesOf } from '../../queries/names.ts';
import { overuseWarning } from '../../queries/overuseWarning.ts';
import { reviewJson } from '../../reports/review/reviewReport.ts';
import { reviewPage } from '../../reports/review/reviewText.ts';
import { weekReviewReport } from '../../reports/review/weekReviewReport.ts';
import { formatCount } from '../../text/format.ts';
import { answerHead, giveAnswer } from '../route/answer.ts';
import { chooseRoute } from '../route/chooseRoute.ts';
import { remembered } from '../route/remembered.ts';
import { readRouteRequest } from '../route/routeRequest.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright review`: what the logs of the last week show. */
export async function review(request: Request, io: Io): Promise<CommandResult> {
  const asked = readRouteRequest(request);
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const { project, own, answerDay } = route;
  const modelInput = buildModelInput(project, own, { asOf: answerDay.day });
  const progress = `Looking back on ${formatCount(project.techniques.size, 'technique')}`;
  const words = [techniqueNamesOf(project), difficultiesOf(project)];
  const report = remembered(io, progress, ['review', modelInput, ...words], () =>
    weekReviewReport(project, modelInput),
  );
  const { practice, runs } = modelInput.logs;
  const answer = {
    json: () => reviewJson(report),
    print: () =>
      printPage(
        io,
        reviewPage(report, {
          ...answerHead(route, modelInput, io),
          difficulties: difficultiesOf(project),
          offsetPerStep: resolveConstants(modelInput.constants).midwayPerStep,
          caution: overuseWarning(own, modelInput.asOfDay),
        }),
      ),
    empty: practice.length + runs.length === 0,
  };
  return giveAnswer(answer, route, io);
}
