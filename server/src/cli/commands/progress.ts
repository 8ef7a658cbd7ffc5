import { standings as standingsOn } from '../../model/standing/standings.ts';
import { buildModelInput } from '../../queries/modelInput.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { buildProgressInput } from '../../queries/progressInput.ts';
import { progressJson } from '../../reports/progress/progressJson.ts';
import { progressPage } from '../../reports/progress/progressPage.ts';
import { progressReport } from '../../reports/progress/progressReport.ts';
import { standingReports } from '../../reports/standingReports.ts';
import { formatCount } from '../../text/format.ts';
import { answerHead, giveAnswer } from '../route/answer.ts';
import { chooseRoute } from '../route/chooseRoute.ts';
import { readRouteRequest } from '../route/routeRequest.ts';
import { remembered } from '../route/remembered.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright progress`: landing rates, best times and hours of practice over the months. */
export async function progress(request: Request, io: Io): Promise<CommandResult> {
  const asked = readRouteRequest(request);
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const { project, own, answerDay } = route;
  const modelInput = buildModelInput(project, own, { asOf: answerDay.day });
  const report = progressReport(buildProgressInput(project, own, modelInput), request.numbers.get('months'));
  const label = `Looking back on ${formatCount(project.techniques.size, 'technique')}`;
  const found = remembered(io, label, ['standings', modelInput], () => standingsOn(modelInput));
  const standings = standingReports([...found.values()], techniqueNamesOf(project));
  const answer = {
    json: () => progressJson(report, modelInput.asOfDay, standings),
    print: () => printPage(io, progressPage(report, { ...answerHead(route, modelInput, io), standings })),
    empty: report === undefined,
  };
  return giveAnswer(answer, route, io);
}
