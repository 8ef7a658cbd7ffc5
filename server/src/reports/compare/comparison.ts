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

/** One side of a comparison in plain numbers. */
interface SideInput {
  readonly label: string;
  readonly project: Project;
  readonly modelInput: ModelInput;
  readonly times: SideTimes;
}

/** Everything that a comparison is computed from. */
export interface ComparisonInput extends Pick<Comparison, 'answerDay' | 'target' | 'logsOf'> {
  readonly a: SideInput;
  readonly b: SideInput;
}

/** Puts two routes into plain numbers, without the long work of comparing them. */
export const comparisonInput = inOneGo(comparisonInputInSteps);

/** The same in steps. */
export function* comparisonInputInSteps(
  first: ComparedRoute,
  second: ComparedRoute,
  { day, target: wanted, runner }: CompareOptions,
): Steps<ComparisonInput> {
  const { a, b, logsOf } = shareLogs(first, second, runner);
  const answerDay = latestAnswerDay([a.own, b.own], day);
  const target = [resolveTarget(b.project, b.own, wanted), resolveTarget(a.project, a.own)].find(
    (one) => one !== undefined,
  );
  const asOf = answerDay.day;
  function* sideOf(side: ComparedRoute): Steps<SideInput> {
    const modelInput = yield* buildModelInputInSteps(side.project, side.own, { asOf });
    const times = sideTimes(modelInput, yield* inputOfToday(side, asOf));
    return { label: side.label, project: side.project, modelInput, times };
  }
  return { a: yield* sideOf(a), b: yield* sideOf(b), answerDay, target, logsOf };
}

/**
 * Everything that a comparison depends on, as plain data.
 *
 * @param added as in {@link compareInSteps}
 */
export function comparisonBasis({ a, b, ...both }: ComparisonInput, added: readonly string[]): unknown {
  const sides = [a, b].map(({ label, project, modelInput, times }) => ({
    label,
    modelInput,
    times,
    added: added.map((id) => currentTechniqueId(project, id)),
  }));
  return { sides, ...both };
}

/**
 * Compares two sides.
 *
 * @param added techniques that count as in the run in addition, by the ids of either side
 */
export const compareSides = inOneGo(compareInSteps);

/** The same in steps. */
export function* compareInSteps(
  { a, b, answerDay, target, logsOf }: ComparisonInput,
  added: readonly string[],
): Steps<Comparison> {
  function* sideOf({ label, project, modelInput, times }: SideInput): Steps<ComparisonSide> {
    const input: RankInput = { ...modelInput, route: times.route };
    const extra = added.flatMap((id) => currentTechniqueId(project, id) ?? []);
    const cache = new ModelCache();
    return {
      label,
      odds: yield* oddsFromLogsInSteps(
        input,
        { target: target?.seconds ?? null, with: extra, runMinutesPerDay: modelInput.runMinutesPerDay },
        cache,
      ),
      parts: yield* breakdownInSteps(input, extra, cache),
    };
  }
  const [sideA, sideB] = [yield* sideOf(a), yield* sideOf(b)];
  const report = compareReport(sideA, sideB, b.modelInput.asOfDay);
  const tried = new Set(
    [sideA, sideB].flatMap(({ parts }) => parts.techniques.map(({ technique }) => technique)),
  );
  const [writtenA, writtenB] = [a.modelInput.times.asWritten, b.modelInput.times.asWritten];
  const untried = untriedChanges(writtenA, writtenB, tried);
  return { report, answerDay, target, logsOf, times: { a: a.times, b: b.times }, untried };
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
    // Whose they are is decided where they lie, not beside the other route.
    const own = runnerFilesOf(project, runner ?? from.own.runner);
    if ('runners' in own) return to;
    const lent = to.own.week === undefined ? own : { ...own, week: to.own.week };
    return { ...to, project, own: lent, today: from.today ?? from };
  };
  if (hasLogs(a) && !hasLogs(b)) return { a, b: lend(b, a), logsOf: 'a' };
  if (hasLogs(b) && !hasLogs(a)) return { a: lend(a, b), b, logsOf: 'b' };
  return { a, b, logsOf: undefined };
}
