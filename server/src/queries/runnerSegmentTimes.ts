import { runnerDayOf } from '../text/calendar.ts';
import type { TechniqueAttempts } from '../files/documents/documents.ts';
import {
  fitSegmentTimes,
  withSegmentTimes,
  type LoggedRun,
  type SegmentTime,
} from '../model/run/segmentTimes.ts';
import type { MemoCache } from '../incremental/memoCache.ts';
import type { RouteModel } from '../model/core/types.ts';
import { currentTechniqueId, type Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { weekDefaults } from '../files/documents/weekDocument.ts';

/** A route with the runner's own segment times where their runs tell them. */
export interface RunnerSegmentTimes {
  readonly route: RouteModel;
  /** The route as the files give it. */
  readonly asWritten: RouteModel;
  readonly fits: readonly SegmentTime[];
  /** Segments whose times the week file gives: nothing is fitted there. */
  readonly written: ReadonlySet<string>;
}

/**
 * Puts the segment times of a runner's own runs into a route. What the week file says of a segment stands.
 *
 * @param asOfDay day number; runs after it do not count
 * @param memory keeps the fits for as long as runs and segments stay as they are
 */
export function runnerSegmentTimes(
  project: Project,
  own: RunnerFiles,
  route: RouteModel,
  asOfDay: number,
  memory: MemoCache,
): RunnerSegmentTimes {
  const written = new Set(own.week?.document.times.map(({ id }) => id));
  const runs = loggedRuns(project, own, asOfDay);
  const fits = memory.getOrCompute('segment times', [JSON.stringify([route.segments, runs])], () =>
    fitSegmentTimes(route, runs),
  );
  const used = fits.filter(({ segment }) => !written.has(segment));
  return { route: withSegmentTimes(route, used), asWritten: route, fits: used, written };
}

/** Single runs with the times of their segments, as the model reads them. An evening in one line has no such times. */
function loggedRuns(project: Project, own: RunnerFiles, asOfDay: number): LoggedRun[] {
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
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
  return id === undefined ? [] : [{ use: use === undefined ? id : `${id}@${use}`, landed, tries }];
}
