import { formatDate } from '../files/calendar.ts';
import { assess } from '../model/index.ts';
import {
  checkProject,
  forecastConcerns,
  forecastFindings,
  readingFindings,
  sorted,
  strayFindings,
} from '../rules/check.ts';
import { settleAllowances } from '../rules/allowances.ts';
import { allCodes, needsForecast } from '../rules/catalogue.ts';
import type { Finding, Readings } from '../rules/findings.ts';
import { readsWell } from '../rules/unsure.ts';
import { listed } from '../reports/format.ts';
import type { Project } from '../workspace/project.ts';
import { questionOf } from '../workspace/question.ts';
import { ownOrAll, runnersOf, type Own } from '../workspace/runner.ts';
import { filesOf, type Workspace } from '../workspace/workspace.ts';
import type { Selection } from './load.ts';

export interface Looked {
  /** By file, place and code; each once. */
  readonly findings: readonly Finding[];
  /** Dates for which forecasts were made, in the order of the calendar. */
  readonly asOf: readonly string[];
}

export interface LookFor {
  /** Day number of `--as-of`: only then can a date be in the future. */
  readonly asked: number | undefined;
  /** Whose logs to look at, where several runners are named. */
  readonly runner: string | undefined;
  /** Whether to ask the rules that need the model's estimates, too; none of them finds errors. */
  readonly forecast: boolean;
}

/** Everything that the rules find in what was selected. */
export function findIn(
  workspace: Workspace,
  { files, projects, strays }: Selection,
  { asked, runner, forecast }: LookFor,
): Looked {
  const readings: Readings = (uri) => workspace.file(uri)?.reading;
  const found = [...files.flatMap((file) => readingFindings(file)), ...strayFindings(strays, readings)];
  const days = new Set<number>();
  const askedAbout = new Set(projects);
  const forecasted = new Set<string>();
  // A route's findings come from its own project, so those of the routes it extends are looked at, too.
  for (const project of workspace.groups().projects) {
    const { own, chosen } = ownOrAll(project, runner);
    const context = { project, own, today: asked };
    found.push(...checkProject(context, readings));
    if (!forecast || !chosen || !askedAbout.has(project)) continue;
    const question = questionOf(project, own, { asOf: asked });
    // Without a log and without a date given, no day means anything.
    if (asked !== undefined || logged(own)) days.add(question.asOfDay);
    for (const { uri } of filesOf(project)) forecasted.add(uri);
    const concerned = forecastConcerns(context);
    if (concerned.size > 0)
      found.push(...forecastFindings(context, assess(question, undefined, concerned), readings));
  }
  const wanted = new Set(files.map(({ uri }) => uri));
  const asOf = [...days].sort((a, b) => a - b).map(formatDate);
  const settled = settleAllowances(
    wanted,
    found.filter(({ uri }) => wanted.has(uri)),
    {
      readings,
      codes: allCodes,
      decided: (uri, code) => readsWell(workspace, uri) && (!needsForecast(code) || forecasted.has(uri)),
    },
  );
  return { findings: unique(sorted(settled)), asOf };
}

function logged({ practice, runs }: Own): boolean {
  return (
    practice.some(({ document }) => document.sessions.length > 0) ||
    runs.some(({ document }) => document.runs.length > 0)
  );
}

/** What to say where a runner was asked for whom no log names. */
export function unknownRunner(projects: readonly Project[], runner: string | undefined): string | undefined {
  const names = [...new Set(projects.flatMap(runnersOf))].sort();
  if (runner === undefined || names.length === 0 || names.includes(runner)) return undefined;
  return `No log here names the runner ${runner}. ${listed(names)} ${names.length === 1 ? 'is' : 'are'} named.`;
}

function unique(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter(({ uri, start, end, code, message }) => {
    const key = JSON.stringify([uri, start, end, code, message]);
    return !seen.has(key) && seen.add(key);
  });
}
