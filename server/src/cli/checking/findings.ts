// Written by hand: the order of the findings and the division of work among threads are rules of this project.
import { availableParallelism } from 'node:os';
import { answerDayOf, type DayChoice } from '../../queries/answerDay.ts';
import { excessesOf } from '../../queries/modelLimits.ts';
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
import { runnerFilesOrAll } from '../../workspace/runnerFiles.ts';
import { filesOf, type Workspace } from '../../workspace/workspace.ts';
import type { Selection } from '../project/loadFiles.ts';
import { type ForecastResult, forecastTask, type ForecastTask, runForecasts } from './forecasts.ts';

export interface FindingsReport {
  /** Sorted by file, position and code, without duplicates. */
  readonly findings: readonly Finding[];
  /** Dates for which forecasts were made, the earliest first. */
  readonly asOf: readonly string[];
}

export interface CheckOptions {
  /** The day that the findings are for. What is dated after it is a finding. */
  readonly day: DayChoice;
  /** The runner whose logs are checked, where several runners are named. */
  readonly runner: string | undefined;
  /** Whether to run the rules that need the model's estimates as well; none of them finds errors. */
  readonly forecast: boolean;
  /** Gives the forecasts of one task from an earlier process, else works them out. Default: always works them out. */
  readonly kept?: (task: ForecastTask, work: () => ForecastResult) => ForecastResult;
}

/** When worker threads compute forecasts. */
export interface WorkerOptions {
  /** Number of threads, two or more; with fewer, no thread is started. */
  readonly threads: number;
  /** Number of routes with logs from which on threads save time. */
  readonly minRoutes: number;
  /** Absolute path of the worker's file. Default: the file in the bundle. */
  readonly script?: string;
}

/**
 * With fewer than about 100 routes, threads save no more time than it takes to start and warm them. More than four
 * would mostly wait for the files to be read, which only this thread does.
 */
const defaultWorkers: WorkerOptions = { threads: Math.min(4, availableParallelism()), minRoutes: 120 };

/** With more routes than these, forecasts are not kept: they would push out the answers to everything else. */
const mostKept = 12;

/** All findings of the rules in the selected files. */
export function checkSelection(
  workspace: Workspace,
  selection: Selection,
  options: CheckOptions,
): FindingsReport {
  const { forecastTasks, finish } = beginCheck(workspace, selection, options);
  const tasks = [...forecastTasks];
  const { kept } = options;
  if (kept === undefined || tasks.length > mostKept) return finish(runForecasts(tasks));
  return finish(tasks.map((task) => kept(task, () => runForecasts([task])[0]!)));
}

/** The same, with the forecasts of many projects computed anew by several threads where that saves time. */
export async function checkInParallel(
  workspace: Workspace,
  selection: Selection,
  options: CheckOptions,
  { threads, minRoutes, script } = defaultWorkers,
): Promise<FindingsReport> {
  const logged = selection.projects.filter(({ practice, runs }) => practice.length + runs.length > 0);
  if (threads < 2 || logged.length < minRoutes) return checkSelection(workspace, selection, options);
  const { runForecastsInPool } = await import('./forecastPool.ts');
  const { forecastTasks, finish } = beginCheck(workspace, selection, options);
  return finish(await runForecastsInPool(forecastTasks, threads, script));
}

/** A check in progress. */
interface PendingCheck {
  /** The forecasts that the model must compute. Each project is checked when the iteration reaches it. */
  readonly forecastTasks: Iterable<ForecastTask>;
  /** The report. Call it after the whole iteration, with the forecasts in the order of their tasks. */
  readonly finish: (answers: readonly ForecastResult[]) => FindingsReport;
}

function beginCheck(
  workspace: Workspace,
  { files, projects, strays }: Selection,
  { day: choice, runner, forecast }: CheckOptions,
): PendingCheck {
  const readings: ReadingLookup = (uri) => workspace.file(uri)?.reading;
  const found = [...files.flatMap((file) => readingFindings(file)), ...strayFindings(strays, readings)];
  const forecastIn: RuleContext[] = [];
  const days = new Set<number>();
  const selected = new Set(projects);
  const forecastUris = new Set<string>();
  function* findForecastTasks(): Generator<ForecastTask> {
    // The findings of a route come from its own project, so the projects of the routes that it extends are checked,
    // too.
    for (const project of workspace.groups().projects) {
      const { own, chosen } = runnerFilesOrAll(project, runner);
      const { day: today } = answerDayOf(own, choice);
      const context = { project, own, today };
      found.push(...checkProject(context, readings));
      if (!forecast || !chosen || excessesOf(project).length > 0 || !selected.has(project)) continue;
      const modelInput = buildModelInput(project, own, { asOf: today });
      days.add(today);
      for (const { uri } of filesOf(project)) forecastUris.add(uri);
      const concerned = forecastTechniqueIds(context);
      if (concerned.size === 0) continue;
      forecastIn.push(context);
      yield forecastTask(modelInput, concerned);
    }
  }
  const finish = (answers: readonly ForecastResult[]): FindingsReport => {
    // Each code comes either from rules with a forecast or from rules without one, so findings of one code stay in the
    // order of the projects.
    const forecasts = forecastIn.flatMap((context, i) => forecastFindings(context, answers[i]!, readings));
    const wanted = new Set(files.map(({ uri }) => uri));
    const settled = applyAllowances(
      wanted,
      [...found, ...forecasts].filter(({ uri }) => wanted.has(uri)),
      {
        readings,
        codes: findingCodes,
        decided: (uri, code) =>
          isFreeOfReadingProblems(workspace, uri) && (!needsForecast(code) || forecastUris.has(uri)),
      },
    );
    const asOf = [...days].sort((a, b) => a - b).map(formatDate);
    return { findings: unique(sortFindings(settled)), asOf };
  };
  return { forecastTasks: findForecastTasks(), finish };
}

function unique(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter(({ uri, start, end, code, message }) => {
    const key = JSON.stringify([uri, start, end, code, message]);
    return !seen.has(key) && seen.add(key);
  });
}
