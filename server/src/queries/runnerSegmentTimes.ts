import { useName } from '../files/schema/ids.ts';
import type { Steps } from '../incremental/steps.ts';
import { runnerDayOf } from '../text/calendar.ts';
import type { TechniqueAttempts } from '../files/documents/documents.ts';
import {
  fitSegmentTimesInSteps,
  withSegmentTimes,
  type LoggedRun,
  type SegmentTime,
} from '../model/run/segmentTimes.ts';
import type { MemoCache } from '../incremental/memoCache.ts';
import type { RouteModel } from '../model/core/types.ts';
import { currentTechniqueId, type Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { dayStartsOf } from './dayStarts.ts';

/** A route with the runner's own segment times where the runs give them. */
export interface RunnerSegmentTimes {
  readonly route: RouteModel;
  /** The route with the segment times of the files. */
  readonly asWritten: RouteModel;
  readonly fits: readonly SegmentTime[];
  /** Segments whose times the week file gives: they are not fitted. */
  readonly written: ReadonlySet<string>;
}

/**
 * Puts the segment times of a runner's own runs into a route. A time that the week file gives for a segment is kept.
 *
 * @param asOfDay day number; runs after it do not count
 * @param memory keeps the fits as long as runs and segments do not change
 */
export function* runnerSegmentTimesInSteps(
  project: Project,
  own: RunnerFiles,
  route: RouteModel,
  asOfDay: number,
  memory: MemoCache,
): Steps<RunnerSegmentTimes> {
  const written = new Set(own.week?.document.times.map(({ id }) => id));
  const runs = loggedRuns(project, own, asOfDay);
  const on = [JSON.stringify([route.segments, runs])];
  const fits = yield* memory.getOrComputeInSteps('segment times', on, () =>
    fitSegmentTimesInSteps(route, runs),
  );
  const used = fits.filter(({ segment }) => !written.has(segment));
  return { route: withSegmentTimes(route, used), asWritten: route, fits: used, written };
}

/**
 * Single runs with the times of their segments, in the model's form. An entry for a whole evening has no such times.
 */
function loggedRuns(project: Project, own: RunnerFiles, asOfDay: number): LoggedRun[] {
  const dayStarts = dayStartsOf(own);
  return own.runs
    .flatMap(({ document }) => document.runs)
    .filter(
      ({ kind, start, times }) =>
        kind === 'run' && times.length > 0 && runnerDayOf(start, dayStarts) <= asOfDay,
    )
    .map(({ times, tried }) => ({
      times: times.map(({ id, seconds }) => ({ segment: id, seconds })),
      tried: tried.flatMap((one) => loggedTries(project, one)),
    }));
}

function loggedTries(
  project: Project,
  { technique, use, landed, tries }: TechniqueAttempts,
): LoggedRun['tried'][number][] {
  const id = currentTechniqueId(project, technique);
  return id === undefined ? [] : [{ use: useName(id, use), landed, tries }];
}
