import { dayOf, formatDate } from '../files/calendar.ts';
import { weekDefaults } from '../files/week.ts';
import { rank as rankTechniques, resolveConstants } from '../model/index.ts';
import { counted, listed } from '../reports/format.ts';
import { plainStyle, plainText, terminalStyle } from '../reports/plainText.ts';
import { rankJson } from '../reports/rankJson.ts';
import { rankReport } from '../reports/rankReport.ts';
import { rankText } from '../reports/rankText.ts';
import { placeFindings } from '../reports/checkReport.ts';
import { spoken } from '../reports/checkText.ts';
import type { Project } from '../workspace/project.ts';
import { questionOf, type Question } from '../workspace/question.ts';
import { ownPart, type Own } from '../workspace/runner.ts';
import { asOfDay, type Request } from './arguments.ts';
import { cautionFor } from './caution.ts';
import { findIn, unknownRunner } from './findings.ts';
import { tellRefused } from './refused.ts';
import { exit, printJson, styled, tell, withProgress, type Io } from './io.ts';
import { load, type Loaded } from './load.ts';
import { nameFrom } from './paths.ts';

/** `routewright rank`: which technique to learn next. Returns the exit code. */
export async function rank(request: Request, io: Io): Promise<number> {
  const loaded = await load(io.cwd, request.paths);
  if ('message' in loaded) {
    tell(io, loaded.message);
    return exit.wrong;
  }
  tellRefused(loaded, io);
  const runner = request.values.get('runner');
  tellErrors(loaded, io, runner);
  const chosen = choose(loaded, request, io, runner);
  if ('message' in chosen) {
    tell(io, chosen.message);
    return exit.wrong;
  }

  const { project, own } = chosen;
  const asked = asOfDay(request);
  const question = questionOf(project, own, asked, request.switches.has('all'));
  const techniques = counted(project.techniques.size, 'technique');
  const ranking = withProgress(io, `Ranking ${techniques}`, () => rankTechniques(question));
  const report = rankReport(ranking, question.asOfDay);
  if (request.switches.has('json')) {
    printJson(io, rankJson(report));
  } else {
    const { game, category } = project.route.document;
    const style = styled(io.stdout, io.env) ? terminalStyle : plainStyle;
    const words = {
      title: `${game ?? 'No game named'}, ${category ?? 'no category named'} (${nameFrom(io.cwd)(project.route.uri)})`,
      basis: basis(own, question, asked !== undefined),
      names: new Map([...project.techniques].map(([id, { name }]) => [id, name])),
      offsetPerStep: resolveConstants(question.constants).midwayPerStep,
      caution: cautionFor(own, question.asOfDay),
    };
    io.stdout.write(rankText(report, words, style));
  }
  if (loaded.refused.length > 0) return exit.wrong;
  return report.rows.length === 0 ? exit.findings : exit.fine;
}

/** The one route to rank and whose it is, or a sentence that says why there is none. */
function choose(
  loaded: Loaded,
  request: Request,
  io: Io,
  runner: string | undefined,
): { readonly project: Project; readonly own: Own } | { readonly message: string } {
  const { projects } = loaded.select();
  const nameOf = nameFrom(io.cwd);
  const where = request.paths.join(', ') || 'this folder';
  const [project] = projects;
  if (!project)
    return { message: `There is no route to rank in ${where}. Begin one with: routewright new FOLDER` };
  if (projects.length > 1) {
    const names = projects.map(({ route }) => nameOf(route.uri));
    return { message: `There are several routes: ${listed(names)}. Name one: routewright rank ${names[0]}` };
  }
  const stranger = unknownRunner(projects, runner);
  if (stranger !== undefined) return { message: stranger };
  const own = ownPart(project, runner);
  if ('runners' in own) {
    const names = listed(own.runners);
    return { message: `The logs hold several runners: ${names}. Name one: --runner ${own.runners[0]}` };
  }
  return { project, own };
}

/** Errors worth a line each before the answer; the rest is for `check`. */
const toldErrors = 5;

/** What the files say wrong is left out of the ranking, so that must not go unsaid. */
function tellErrors(loaded: Loaded, io: Io, runner: string | undefined): void {
  const { findings } = findIn(loaded.workspace, loaded.select(), {
    asked: undefined,
    runner,
    forecast: false,
  });
  // Whose logs to use is said in its own words.
  const errors = findings.filter(({ severity, code }) => severity === 'error' && code !== 'several-runners');
  if (errors.length === 0) return;
  const textOf = (uri: string) => loaded.workspace.file(uri)?.reading.text;
  for (const { file, range, message } of placeFindings(errors.slice(0, toldErrors), textOf, nameFrom(io.cwd)))
    tell(io, `${plainText(file)}:${spoken(range.start)}  error  ${plainText(message)}`);
  const what = errors.length === 1 ? 'it concerns' : 'they concern';
  tell(
    io,
    `${counted(errors.length, 'error')} in these files: what ${what} may be missing from the ranking.`,
  );
}

/** Which day is answered for, and what the answer rests on. */
function basis(own: Own, { asOfDay: day, logs }: Question, asked: boolean): string[] {
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const before = ({ start }: { readonly start: Parameters<typeof dayOf>[0] }) =>
    dayOf(start, dayStarts) <= day;
  const blocks = own.practice
    .flatMap(({ document }) => document.sessions)
    .filter(before)
    .reduce((sum, session) => sum + session.blocks.length, 0);
  const runs = own.runs
    .flatMap(({ document }) => document.runs)
    .filter(before)
    .reduce((sum, { started }) => sum + started, 0);
  if (blocks === 0 && runs === 0) {
    const date = asked
      ? `As of ${formatDate(day)}`
      : `Without a log there is no date to go by (${formatDate(day)} stands in)`;
    return [
      `${date}. Nothing is logged yet, so the numbers rest on the difficulty ratings alone and their ranges are wide.`,
    ];
  }
  const why = asked ? 'as asked' : 'the day after the last log entry';
  const rests = `It rests on ${counted(blocks, 'block')} of practice and ${counted(runs, 'run')}`;
  const unused =
    logs.practice.length + logs.runs.length === 0 ? ', none of them of a technique in this route' : '';
  return [`For the morning of ${formatDate(day)}, ${why}. ${rests}${unused}.`];
}
