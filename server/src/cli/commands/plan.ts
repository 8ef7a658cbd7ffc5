import { readFile, writeFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { stemOf } from '../../files/fileKind.ts';
import { replaceFile } from '../../journal/replaceFile.ts';
import { planWeek } from '../../model/week/planWeek.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { buildWeekInput } from '../../queries/weekInput.ts';
import { basisText } from '../../reports/basisText.ts';
import { planIcs } from '../../reports/plan/planIcs.ts';
import { planJson } from '../../reports/plan/planJson.ts';
import { planReport, type PlanReport } from '../../reports/plan/planReport.ts';
import { planText } from '../../reports/plan/planText.ts';
import { parseMoment } from '../../text/calendar.ts';
import { formatCount } from '../../text/format.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { reasonOf } from '../project/diskFiles.ts';
import { titleOf } from '../project/titleOf.ts';
import { chooseRoute, type ChosenRoute } from '../route/chooseRoute.ts';
import type { Request } from '../terminal/arguments.ts';
import { type CliError, cliError, type CommandResult, isCliError } from '../terminal/cliError.ts';
import { exitCodes, type Io, printJson, printNotice, withProgress } from '../terminal/io.ts';
import { asOfDay } from '../terminal/optionValues.ts';
import { styleOf } from '../terminal/print.ts';

const defaultWeeks = 4;
const maxWeeks = 12;
/** Used where neither the command nor the logs say when a session starts: seven in the evening. */
const defaultStart = 19 * 60;

/** `routewright plan`: this week's sessions. */
export async function plan(request: Request, io: Io): Promise<CommandResult> {
  const weeks = weeksOf(request.values.get('weeks'));
  const at = clockOf(request.values.get('at'));
  if (weeks === undefined) return cliError(`--weeks needs a whole number from 1 to ${maxWeeks}.`);
  if (at === undefined) return cliError('--at needs a time of day such as 19:30.');
  const chosenRoute = await chooseRoute(request, io, 'plan');
  if (isCliError(chosenRoute)) return chosenRoute;
  const { project, own, loaded } = chosenRoute;
  const asOf = asOfDay(request);
  const weekInput = buildWeekInput(project, own, weeks, { asOf });
  const plannedWeeks = withProgress(io, `Planning ${formatCount(weeks, 'week')}`, () =>
    planWeek(weekInput.planInput),
  );
  const names = techniqueNamesOf(project);
  const { runMinutes, givenMinutes } = weekInput;
  const report = planReport(plannedWeeks, { runMinutes, givenMinutes, names });
  const file = request.values.get('ics');
  if (file !== undefined) {
    const failed = await writeIcs(file, report, chosenRoute, at ?? sessionStart(own), io);
    if (failed) return failed;
  }
  if (request.switches.has('json')) {
    printJson(io, planJson(report));
  } else {
    const style = styleOf(io);
    const basis = [basisText(own, weekInput, asOf === undefined ? 'last' : 'asked')];
    io.stdout.write(planText(report, { title: titleOf(project, io), basis, names }, style));
  }
  if (loaded.refused.length > 0) return exitCodes.wrong;
  return report.days.every(({ blocks }) => blocks.length === 0) ? exitCodes.findings : exitCodes.fine;
}

function weeksOf(written: string | undefined): number | undefined {
  if (written === undefined) return defaultWeeks;
  const weeks = Number(written);
  return /^\d+$/.test(written) && weeks >= 1 && weeks <= maxWeeks ? weeks : undefined;
}

/** Minutes after midnight; null where nothing is written, undefined where the text is no time of day. */
function clockOf(written: string | undefined): number | null | undefined {
  if (written === undefined) return null;
  const moment = /^\d\d:\d\d$/.test(written) ? parseMoment(`2000-01-01T${written}`) : undefined;
  return moment?.minute;
}

/** Minutes after midnight at which the runner's sessions usually start: the median of the logs. */
function sessionStart(own: RunnerFiles): number {
  const starts = own.practice
    .flatMap(({ document }) => document.sessions)
    .flatMap(({ start }) => start.minute ?? [])
    .sort((a, b) => a - b);
  return Math.floor(starts[starts.length >> 1] ?? defaultStart);
}

/** Writes the calendar file. An earlier calendar is replaced; any other file is not changed. */
async function writeIcs(
  file: string,
  report: PlanReport,
  { project, own }: ChosenRoute,
  startMinute: number,
  io: Io,
): Promise<CliError | undefined> {
  const path = resolve(io.cwd, file);
  const { game, category } = project.route.document;
  const text = planIcs(report, {
    title: `${game ?? 'No game named'}, ${category ?? 'no category named'}`,
    key: calendarKey([basename(stemOf(project.route.uri)), own.runner ?? '']),
    names: techniqueNamesOf(project),
    startMinute,
    dayStarts: own.week?.document.dayStarts ?? weekDefaults.dayStarts,
  });
  try {
    const before = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return undefined;
      throw error;
    });
    if (before === undefined) await writeFile(path, text, { encoding: 'utf8', flag: 'wx' });
    else if (/^\s*BEGIN:VCALENDAR/.test(before)) await replaceFile(path, text);
    else return cliError(`${sanitizeForTerminal(file)} exists and is no calendar: it is left as it is.`);
  } catch (error) {
    return cliError(`${sanitizeForTerminal(file)} cannot be written: ${reasonOf(error)}.`);
  }
  const clock = `${String(Math.floor(startMinute / 60)).padStart(2, '0')}:${String(startMinute % 60).padStart(2, '0')}`;
  printNotice(
    io,
    `${sanitizeForTerminal(file)} written: sessions start at ${clock} (--at sets another time).`,
  );
  return undefined;
}

/** Letters, digits and hyphens only: enough to distinguish one route and runner from another. */
function calendarKey(parts: readonly string[]): string {
  return parts
    .map((part) => encodeURIComponent(part).replace(/[^A-Za-z0-9]+/g, '-'))
    .filter((part) => part !== '')
    .join('-');
}
