import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { ModelCache } from '../../model/core/modelCache.ts';
import { breakdownInSteps } from '../../model/run/breakdown.ts';
import { oddsFromLogsInSteps } from '../../model/run/oddsFromLogs.ts';
import type { RankInput } from '../../model/run/preparedModel.ts';
import { type SideTimes, sideTimes } from './sideTimes.ts';
import { type UntriedChange, untriedChanges } from './untriedChanges.ts';
import { compareReport, type CompareReport, type ComparisonSide } from './compareReport.ts';
import { withLogsOf } from '../../queries/projectAtRevision.ts';
import { type AnswerDay, type DayChoice, latestAnswerDay } from '../../queries/answerDay.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import { buildModelInputInSteps, type ModelInput } from '../../queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import { resolveTarget, type Target } from '../../queries/target.ts';

/** One of two routes, with the runner's files for it. */
export interface ComparedRoute {
  readonly label: string;
  readonly project: Project;
  readonly own: RunnerFiles;
  /** For a former revision: the route as it is today, along which the runs of the logs were played. */
  readonly today?: Pick<ComparedRoute, 'project' | 'own'> | undefined;
}

export interface CompareOptions {
  /** The day to answer for; `last` means the last entry of either side's logs. */
  readonly day: DayChoice;
  /** Seconds. */
  readonly target?: number | undefined;
  /** Techniques that count as in the run in addition, by the ids of either side. */
  readonly with: readonly string[];
  readonly runner?: string | undefined;
}

export interface Comparison {
  readonly report: CompareReport;
  readonly answerDay: AnswerDay;
  readonly target: Target | undefined;
  /** The side whose logs are used for both, where only one side has logs. */
  readonly logsOf: 'a' | 'b' | undefined;
  /** Where the segment times of each side come from. */
  readonly times: { readonly a: SideTimes; readonly b: SideTimes };
  readonly untried: readonly UntriedChange[];
}

/** Compares two routes for one runner on one morning. */
export const compareRoutes = inOneGo(compareRoutesInSteps);

/** The same in steps. */
export function* compareRoutesInSteps(
  first: ComparedRoute,
  second: ComparedRoute,
  wish: CompareOptions,
): Steps<Comparison> {
  const shared = shareLogs(first, second, wish.runner);
  const { a, b } = shared;
  const answerDay = latestAnswerDay([a.own, b.own], wish.day);
  const target = [resolveTarget(b.project, b.own, wish.target), resolveTarget(a.project, a.own)].find(
    (one) => one !== undefined,
  );
  const asOf = answerDay.day;
  const ofA = yield* buildModelInputInSteps(a.project, a.own, { asOf });
  const ofB = yield* buildModelInputInSteps(b.project, b.own, { asOf });
  const times = {
    a: sideTimes(ofA, yield* inputOfToday(a, asOf)),
    b: sideTimes(ofB, yield* inputOfToday(b, asOf)),
  };
  function* sideOf(
    { label, project }: ComparedRoute,
    modelInput: ModelInput,
    { route }: SideTimes,
  ): Steps<ComparisonSide> {
    const input: RankInput = { ...modelInput, route };
    const extra = wish.with.flatMap((id) => currentTechniqueId(project, id) ?? []);
    const cache = new ModelCache();
    return {
      label,
      odds: yield* oddsFromLogsInSteps(input, { target: target?.seconds ?? null, with: extra }, cache),
      parts: yield* breakdownInSteps(input, extra, cache),
    };
  }
  const sideA = yield* sideOf(a, ofA, times.a);
  const sideB = yield* sideOf(b, ofB, times.b);
  const report = compareReport(sideA, sideB, ofB.asOfDay);
  const tried = new Set(
    [sideA, sideB].flatMap(({ parts }) => parts.techniques.map(({ technique }) => technique)),
  );
  const untried = untriedChanges(ofA.times.asWritten, ofB.times.asWritten, tried);
  return { report, answerDay, target, logsOf: shared.logsOf, times, untried };
}

/** The input of the route that the logs of a side belong to; undefined where they are its own. */
function* inputOfToday({ today }: ComparedRoute, asOf: number): Steps<ModelInput | undefined> {
  return today && (yield* buildModelInputInSteps(today.project, today.own, { asOf }));
}

function hasLogs({ own }: ComparedRoute): boolean {
  return own.practice.length + own.runs.length > 0;
}

/** Where only one side has logs, they are used for both: it is the same runner with the same skill. */
function shareLogs(
  a: ComparedRoute,
  b: ComparedRoute,
  runner: string | undefined,
): { a: ComparedRoute; b: ComparedRoute; logsOf: 'a' | 'b' | undefined } {
  const lend = (to: ComparedRoute, from: ComparedRoute): ComparedRoute => {
    const project = withLogsOf(to.project, from.project);
    const own = runnerFilesOf(project, runner);
    if ('runners' in own) return to;
    const lent = to.own.week === undefined ? own : { ...own, week: to.own.week };
    return { ...to, project, own: lent, today: from.today ?? from };
  };
  if (hasLogs(a) && !hasLogs(b)) return { a, b: lend(b, a), logsOf: 'a' };
  if (hasLogs(b) && !hasLogs(a)) return { a: lend(a, b), b, logsOf: 'b' };
  return { a, b, logsOf: undefined };
}
