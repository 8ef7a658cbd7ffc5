import type { Block } from '../files/documents/documents.ts';
import type { Logs } from '../model/core/types.ts';
import { runnerDayOf } from '../text/calendar.ts';
import { currentTechniqueId, type Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { dayStartsOf } from './dayStarts.ts';
import { finishedRunsOf, type FinishedRun } from './finishedRuns.ts';
import { lastLoggedDay } from './modelLogs.ts';
import type { ModelInput } from './modelInput.ts';
import { resolveTarget } from './target.ts';

/** What was logged, as a look back over months needs it. */
export interface ProgressInput {
  /** Day number of the morning that it is for. */
  readonly asOfDay: number;
  /** Ids in the order in which the route first uses them; those that it never uses come last, as they are written. */
  readonly techniques: readonly string[];
  /** Counts and minutes of each technique, up to that day. */
  readonly logs: Logs;
  /** Each block with its day number and all its minutes, in no order. */
  readonly blocks: readonly { readonly day: number; readonly minutes: number }[];
  readonly finishedRuns: readonly FinishedRun[];
  /** Day number of the first entry; undefined where nothing is logged. */
  readonly firstDay: number | undefined;
  /** The time to beat, seconds; null where none is written. */
  readonly target: number | null;
}

/** What a runner logged on a route up to the day of a model input. */
export function buildProgressInput(
  project: Project,
  own: RunnerFiles,
  { logs, asOfDay }: Pick<ModelInput, 'logs' | 'asOfDay'>,
): ProgressInput {
  const dayStarts = dayStartsOf(own);
  const nothing = lastLoggedDay(own, dayStarts, asOfDay) === undefined;
  return {
    asOfDay,
    techniques: techniquesInOrder(project),
    logs,
    blocks: blocksUpTo(project, own, dayStarts, asOfDay),
    finishedRuns: finishedRunsOf(project, own, asOfDay),
    firstDay: nothing ? undefined : firstLoggedDay(own, dayStarts, asOfDay),
    target: resolveTarget(project, own)?.seconds ?? null,
  };
}

function techniquesInOrder(project: Project): string[] {
  const used = project.segments.flatMap(({ uses }) =>
    uses.flatMap(({ technique }) => currentTechniqueId(project, technique) ?? []),
  );
  return [...new Set([...used, ...project.techniques.keys()])];
}

function blocksUpTo(
  project: Project,
  own: RunnerFiles,
  dayStarts: number,
  asOfDay: number,
): ProgressInput['blocks'] {
  return own.practice
    .flatMap(({ document }) => document.sessions)
    .map(({ start, blocks }) => ({ day: runnerDayOf(start, dayStarts), blocks }))
    .filter(({ day }) => day <= asOfDay)
    .flatMap(({ day, blocks }) =>
      blocks.filter((block) => isOfRoute(project, block)).map(({ minutes }) => ({ day, minutes })),
    );
}

/** A log can serve several routes: a block of a technique that only another one has is not counted here. */
function isOfRoute(project: Project, { technique }: Block): boolean {
  return technique === undefined || currentTechniqueId(project, technique) !== undefined;
}

function firstLoggedDay(own: RunnerFiles, dayStarts: number, asOfDay: number): number {
  return [
    ...own.practice.flatMap(({ document }) => document.sessions),
    ...own.runs.flatMap(({ document }) => document.runs),
  ].reduce((first, { start }) => Math.min(first, runnerDayOf(start, dayStarts)), asOfDay);
}
