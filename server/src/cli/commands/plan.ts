import { writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { readGuarded } from '../../disk/guardedRead.ts';
import { systemReason } from '../../disk/systemReason.ts';
import { isUnread } from '../../files/reading/unread.ts';
import { replaceText } from '../../disk/replaceText.ts';
import { planWeek } from '../../model/week/planWeek.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { buildWeekInput, mostWeeks, weeksAhead } from '../../queries/weekInput.ts';
import { planCalendar } from '../../reports/plan/planCalendar.ts';
import { planJson } from '../../reports/plan/planJson.ts';
import { planReport, type PlanReport } from '../../reports/plan/planReport.ts';
import { planPage } from '../../reports/plan/planText.ts';
import { parseMoment } from '../../text/calendar.ts';
import { formatCount } from '../../text/format.ts';
import { answerHead, giveAnswer } from '../route/answer.ts';
import { chooseRoute, type ChosenRoute } from '../route/chooseRoute.ts';
import { remembered } from '../route/remembered.ts';
import { readRouteRequest, type RouteRequest } from '../route/routeRequest.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CliError, cliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { type Io, printNotice } from '../terminal/io.ts';
import { printPage } from '../terminal/print.ts';

/** What a person asks of `routewright plan`. */
interface PlanRequest extends RouteRequest {
  readonly weeks: number;
  /** The calendar file to write, as written. */
  readonly ics: string | undefined;
  /** Minutes after midnight at which sessions start in the calendar; undefined where it is not given. */
  readonly at: number | undefined;
}

function readPlanRequest(request: Request): PlanRequest | CliError {
  const weeks = weeksOf(request.values.get('weeks'));
  const at = clockOf(request.values.get('at'));
  if (weeks === undefined) return cliError(`--weeks needs a whole number from 1 to ${mostWeeks}.`);
  if (at === undefined) return cliError('--at needs a time of day such as 19:30.');
  return { ...readRouteRequest(request), weeks, ics: request.values.get('ics'), at: at ?? undefined };
}

/** `routewright plan`: this week's sessions. */
export async function plan(request: Request, io: Io): Promise<CommandResult> {
  const asked = readPlanRequest(request);
  if (isCliError(asked)) return asked;
  const route = await chooseRoute(asked, io);
  if (isCliError(route)) return route;
  const { project, own, answerDay } = route;
  const weekInput = buildWeekInput(project, own, asked.weeks, { asOf: answerDay.day });
  const progress = `Planning ${formatCount(asked.weeks, 'week')}`;
  const plannedWeeks = remembered(io, progress, ['plan', weekInput.planInput], () =>
    planWeek(weekInput.planInput),
  );
  const { runMinutes, givenMinutes } = weekInput;
  const report = planReport(plannedWeeks, { runMinutes, givenMinutes, names: techniqueNamesOf(project) });
  if (asked.ics !== undefined) {
    const failed = await writeIcs(asked.ics, report, route, asked.at, io);
    if (failed) return failed;
  }
  const answer = {
    json: () => planJson(report),
    print: () => {
      const { basis, ...head } = answerHead(route, weekInput, io);
      printPage(io, planPage(report, { ...head, basis: [basis] }));
    },
    empty: report.days.every(({ blocks }) => blocks.length === 0),
  };
  return giveAnswer(answer, route, io);
}

function weeksOf(written: string | undefined): number | undefined {
  if (written === undefined) return weeksAhead;
  const weeks = Number(written);
  return /^\d+$/.test(written) && weeks >= 1 && weeks <= mostWeeks ? weeks : undefined;
}

/** Minutes after midnight; null where nothing is written, undefined where the text is no time of day. */
function clockOf(written: string | undefined): number | null | undefined {
  if (written === undefined) return null;
  const moment = /^\d\d:\d\d$/.test(written) ? parseMoment(`2000-01-01T${written}`) : undefined;
  return moment?.minute;
}

/** Writes the calendar file. An earlier calendar is replaced; any other file is not changed. */
async function writeIcs(
  file: string,
  report: PlanReport,
  { project, own }: ChosenRoute,
  at: number | undefined,
  io: Io,
): Promise<CliError | undefined> {
  const path = resolve(io.cwd, file);
  const { text, startsAt } = planCalendar(project, own, report, at);
  try {
    const before = await readGuarded(path);
    if (before === undefined) await writeFile(path, text, { encoding: 'utf8', flag: 'wx' });
    else if (!isUnread(before) && /^\s*BEGIN:VCALENDAR/.test(before)) {
      const { replaced, notices } = await replaceText(path, Buffer.from(before, 'utf8'), text);
      for (const notice of notices) printNotice(io, notice);
      if (!replaced)
        return cliError(
          `${file} is left as it is: something else changed it meanwhile. Run the command again.`,
        );
    } else return cliError(`${file} exists and is no calendar: it is left as it is.`);
  } catch (error) {
    return cliError(`${file} cannot be written: ${systemReason(error)}.`);
  }
  printNotice(io, `${file} written: sessions start at ${startsAt} (--at sets another time).`);
  return undefined;
}
