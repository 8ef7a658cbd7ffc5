import { tonight as answerTonight } from '../../model/tonight/tonight.ts';
import { buildTonightInput } from '../../queries/tonightInput.ts';
import { buildWeekInput, weeksAhead } from '../../queries/weekInput.ts';
import { tonightJson } from '../../reports/tonight/tonightJson.ts';
import { tonightPage } from '../../reports/tonight/tonightPage.ts';
import { tonightReport, tonightWordsOf } from '../../reports/tonight/tonightReport.ts';
import { tonightText } from '../../reports/tonight/tonightText.ts';
import { answerHead, giveAnswer } from '../route/answer.ts';
import { chooseRoute } from '../route/chooseRoute.ts';
import { remembered } from '../route/remembered.ts';
import { readRouteRequest } from '../route/routeRequest.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CommandResult, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** `routewright tonight`: what to practise now, what changed, what to leave out of runs. */
export async function tonight(request: Request, io: Io): Promise<CommandResult> {
  const asked = readRouteRequest(request);
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const { project, own, answerDay } = route;
  const weekInput = buildWeekInput(project, own, weeksAhead, { asOf: answerDay.day });
  const input = buildTonightInput(project, own, weekInput);
  const found = remembered(io, 'Planning tonight', ['tonight', input], () => answerTonight(input));
  const words = tonightWordsOf(project, own, weekInput.asOfDay);
  const answer = {
    json: () => tonightJson(tonightReport(found, words)),
    print: () => printPage(io, tonightPage(tonightText(found, words), answerHead(route, weekInput, io))),
    empty: found.blocks.length === 0,
  };
  return giveAnswer(answer, route, io);
}
