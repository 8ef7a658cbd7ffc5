// Written by hand: the order of the findings, and which of them threads work out, are this project's own.
import { availableParallelism } from 'node:os';
import { buildModelInput } from '../../queries/modelInput.ts';
import { applyAllowances } from '../../rules/allowances.ts';
import { findingCodes, needsForecast } from '../../rules/catalogue.ts';
import {
  checkProject,
  forecastFindings,
  forecastTechniqueIds,
  readingFindings,
  sortFindings,
  strayFindings,
} from '../../rules/checkProject.ts';
import type { Finding, ReadingLookup } from '../../rules/engine/findings.ts';
import type { RuleContext } from '../../rules/engine/rule.ts';
import { isFreeOfReadingProblems } from '../../rules/engine/suppressCascades.ts';
import { formatDate } from '../../text/calendar.ts';
import { type RunnerFiles, runnerFilesOrAll } from '../../workspace/runnerFiles.ts';
import { filesOf, type Workspace } from '../../workspace/workspace.ts';
import type { Selection } from '../project/loadFiles.ts';
import { type ForecastResult, forecastTask, type ForecastTask, runForecasts } from './forecasts.ts';

export interface FindingsReport {
  /** By file, place and code; each once. */
  readonly findings: readonly Finding[];
  /** Dates for which forecasts were made, in the order of the calendar. */
  readonly asOf: readonly string[];
}

export interface CheckOptions {
  /** Day number of `--as-of`: only then can a date be in the future. */
  readonly asOf: number | undefined;
  /** Whose logs to look at, where several runners are named. */
  readonly runner: string | undefined;
  /** Whether to ask the rules that need the model's estimates, too; none of them finds errors. */
  readonly forecast: boolean;
}

/** When forecasts are given to worker threads. */
export interface WorkerOptions {
  /** Threads, two or more; with fewer, none is started. */
  readonly threads: number;
  /** Routes with logs from which on it pays to start them. */
  readonly from: number;
  /** Absolute path of the worker's file. Left out: the one that is bundled. */
  readonly script?: string;
}

/**
 * Below some 100 routes, what threads take off is what it takes to start and warm them. More than four would mostly wait
 * for the reading, which this thread does alone.
 */
const defaultWorkers: WorkerOptions = { threads: Math.min(4, availableParallelism()), from: 120 };

/** Everything that the rules find in what was selected. */
export function checkSelection(
  workspace: Workspace,
  selection: Selection,
  lookFor: CheckOptions,
): FindingsReport {
  const { forecastTasks: questions, finish: looked } = beginCheck(workspace, selection, lookFor);
  return looked(runForecasts([...questions]));
}

/**
 * The same, the forecasts of many projects by several threads.
 *
 * @param sharing left out: where it pays
 */
export async function checkInParallel(
  workspace: Workspace,
  selection: Selection,
  lookFor: CheckOptions,
  { threads, from, script } = defaultWorkers,
): Promise<FindingsReport> {
  const logged = selection.projects.filter(({ practice, runs }) => practice.length + runs.length > 0);
  if (threads < 2 || logged.length < from) return checkSelection(workspace, selection, lookFor);
  const { runForecastsInPool } = await import('./forecastPool.ts');
  const { forecastTasks: questions, finish: looked } = beginCheck(workspace, selection, lookFor);
  return looked(await runForecastsInPool(questions, threads, script));
}

/** A look at all projects that is under way. */
interface PendingCheck {
  /** What to ask the model, each as the look at its project comes upon it. */
  readonly forecastTasks: Iterable<ForecastTask>;
  /** What all comes to once the last question was come upon, with the answers in that order. */
  readonly finish: (answers: readonly ForecastResult[]) => FindingsReport;
}

function beginCheck(
  workspace: Workspace,
  { files, projects, strays }: Selection,
  { asOf: asked, runner, forecast }: CheckOptions,
): PendingCheck {
  const readings: ReadingLookup = (uri) => workspace.file(uri)?.reading;
  const found = [...files.flatMap((file) => readingFindings(file)), ...strayFindings(strays, readings)];
  const forecastIn: RuleContext[] = [];
  const days = new Set<number>();
  const askedAbout = new Set(projects);
  const forecasted = new Set<string>();
  function* questions(): Generator<ForecastTask> {
    // A route's findings come from its own project, so those of the routes it extends are looked at, too.
    for (const project of workspace.groups().projects) {
      const { own, chosen } = runnerFilesOrAll(project, runner);
      const context = { project, own, today: asked };
      found.push(...checkProject(context, readings));
      if (!forecast || !chosen || !askedAbout.has(project)) continue;
      const question = buildModelInput(project, own, { asOf: asked });
      // Without a log and without a date given, no day means anything.
      if (asked !== undefined || hasLogEntries(own)) days.add(question.asOfDay);
      for (const { uri } of filesOf(project)) forecasted.add(uri);
      const concerned = forecastTechniqueIds(context);
      if (concerned.size === 0) continue;
      forecastIn.push(context);
      yield forecastTask(question, concerned);
    }
  }
  const looked = (answers: readonly ForecastResult[]): FindingsReport => {
    // No code is found both with a forecast and without, so that the order among those of one code is the projects'.
    const forecasts = forecastIn.flatMap((context, i) => forecastFindings(context, answers[i]!, readings));
    const wanted = new Set(files.map(({ uri }) => uri));
    const settled = applyAllowances(
      wanted,
      [...found, ...forecasts].filter(({ uri }) => wanted.has(uri)),
      {
        readings,
        codes: findingCodes,
        decided: (uri, code) =>
          isFreeOfReadingProblems(workspace, uri) && (!needsForecast(code) || forecasted.has(uri)),
      },
    );
    const asOf = [...days].sort((a, b) => a - b).map(formatDate);
    return { findings: unique(sortFindings(settled)), asOf };
  };
  return { forecastTasks: questions(), finish: looked };
}

function hasLogEntries({ practice, runs }: RunnerFiles): boolean {
  return (
    practice.some(({ document }) => document.sessions.length > 0) ||
    runs.some(({ document }) => document.runs.length > 0)
  );
}

function unique(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter(({ uri, start, end, code, message }) => {
    const key = JSON.stringify([uri, start, end, code, message]);
    return !seen.has(key) && seen.add(key);
  });
}
