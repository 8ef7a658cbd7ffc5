import { readFile, writeFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { parseMoment } from '../../text/calendar.ts';
import { stemOf } from '../../files/fileKind.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { planWeek } from '../../model/week/planWeek.ts';
import { counted } from '../../text/format.ts';
import { plainText } from '../../text/terminalText.ts';
import { planIcs } from '../../reports/plan/planIcs.ts';
import { planJson } from '../../reports/plan/planJson.ts';
import { planReport, type PlanReport } from '../../reports/plan/planReport.ts';
import { planText } from '../../reports/plan/planText.ts';
import { basisOf } from '../../reports/basisText.ts';
import { namesOf } from '../../queries/names.ts';
import type { Own } from '../../workspace/runnerFiles.ts';
import { weekQuestionOf } from '../../queries/weekInput.ts';
import { asOfDay, type Request } from '../terminal/arguments.ts';
import { reasonOf } from '../project/diskFiles.ts';
import { exit, printJson, tell, withProgress, type Io } from '../terminal/io.ts';
import { styleOf } from '../terminal/print.ts';
import { replaceFile } from '../../journal/replaceFile.ts';
import { isUnusable, subjectOf, titleOf, type Subject } from '../project/chosenRoute.ts';

const usualWeeks = 4;
const mostWeeks = 12;
/** Where neither the command nor the logs say when a session starts: seven in the evening. */
const usualStart = 19 * 60;

/** `routewright plan`: this week's sessions. Returns the exit code. */
export async function plan(request: Request, io: Io): Promise<number> {
  const weeks = weeksOf(request.values.get('weeks'));
  const at = clockOf(request.values.get('at'));
  if (weeks === undefined) return wrong(io, `--weeks needs a whole number from 1 to ${mostWeeks}.`);
  if (at === undefined) return wrong(io, '--at needs a time of day such as 19:30.');
  const subject = await subjectOf(request, io, 'plan');
  if (isUnusable(subject)) return wrong(io, subject.message);
  const { project, own, loaded } = subject;
  const asked = asOfDay(request);
  const question = weekQuestionOf(project, own, weeks, { asOf: asked });
  const found = withProgress(io, `Planning ${counted(weeks, 'week')}`, () => planWeek(question.input));
  const names = namesOf(project);
  const { runMinutes, givenMinutes } = question;
  const report = planReport(found, { runMinutes, givenMinutes, names });
  const file = request.values.get('ics');
  if (file !== undefined) {
    const failed = await writeIcs(file, report, subject, at ?? sessionStart(own), io);
    if (failed !== undefined) return wrong(io, failed);
  }
  if (request.switches.has('json')) {
    printJson(io, planJson(report));
  } else {
    const style = styleOf(io);
    const basis = [basisOf(own, question, asked === undefined ? 'last' : 'asked')];
    io.stdout.write(planText(report, { title: titleOf(project, io), basis, names }, style));
  }
  if (loaded.refused.length > 0) return exit.wrong;
  return report.days.every(({ blocks }) => blocks.length === 0) ? exit.findings : exit.fine;
}

function wrong(io: Io, message: string): number {
  tell(io, message);
  return exit.wrong;
}

function weeksOf(written: string | undefined): number | undefined {
  if (written === undefined) return usualWeeks;
  const weeks = Number(written);
  return /^\d+$/.test(written) && weeks >= 1 && weeks <= mostWeeks ? weeks : undefined;
}

/** Minutes after midnight; null where nothing is written, undefined where it is no time of day. */
function clockOf(written: string | undefined): number | null | undefined {
  if (written === undefined) return null;
  const moment = /^\d\d:\d\d$/.test(written) ? parseMoment(`2000-01-01T${written}`) : undefined;
  return moment?.minute;
}

/** Minutes after midnight at which the runner's sessions usually start: the middle one of the logs. */
function sessionStart(own: Own): number {
  const starts = own.practice
    .flatMap(({ document }) => document.sessions)
    .flatMap(({ start }) => start.minute ?? [])
    .sort((a, b) => a - b);
  return Math.floor(starts[starts.length >> 1] ?? usualStart);
}

/** Writes the calendar file, in place of an earlier one but of nothing else; a sentence where that fails. */
async function writeIcs(
  file: string,
  report: PlanReport,
  { project, own }: Subject,
  startMinute: number,
  io: Io,
): Promise<string | undefined> {
  const path = resolve(io.cwd, file);
  const { game, category } = project.route.document;
  const text = planIcs(report, {
    title: `${game ?? 'No game named'}, ${category ?? 'no category named'}`,
    key: keyOf([basename(stemOf(project.route.uri)), own.runner ?? '']),
    names: namesOf(project),
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
    else return `${plainText(file)} exists and is no calendar: it is left as it is.`;
  } catch (error) {
    return `${plainText(file)} cannot be written: ${reasonOf(error)}.`;
  }
  const clock = `${String(Math.floor(startMinute / 60)).padStart(2, '0')}:${String(startMinute % 60).padStart(2, '0')}`;
  tell(io, `${plainText(file)} written: sessions start at ${clock} (--at sets another time).`);
  return undefined;
}

/** Letters, digits and hyphens only, as much as tells one route and runner from another. */
function keyOf(parts: readonly string[]): string {
  return parts
    .map((part) => encodeURIComponent(part).replace(/[^A-Za-z0-9]+/g, '-'))
    .filter((part) => part !== '')
    .join('-');
}
