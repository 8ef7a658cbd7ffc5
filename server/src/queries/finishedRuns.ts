import type { Run } from '../files/documents/documents.ts';
import { compareMoments, formatMoment, runnerDayOf } from '../text/calendar.ts';
import type { Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { dayStartsOf } from './dayStarts.ts';

/** A run that reached the end, with its final time. */
export interface FinishedRun {
  /** Day number on the runner's clock. */
  readonly day: number;
  /** `2026-10-04T15:50`, as its log has it. */
  readonly start: string;
  /** Final time. */
  readonly seconds: number;
}

/**
 * The single runs that reached the end and whose final time is known, in the order in which they were played. An
 * evening in one line has no final times.
 *
 * @param asOfDay day number; later runs do not count
 */
export function finishedRunsOf(project: Project, own: RunnerFiles, asOfDay: number): FinishedRun[] {
  const dayStarts = dayStartsOf(own);
  const segments = new Set(project.segments.map(({ id }) => id));
  return own.runs
    .flatMap(({ document }) => document.runs)
    .filter(({ start }) => runnerDayOf(start, dayStarts) <= asOfDay)
    .sort((a, b) => compareMoments(a.start, b.start))
    .flatMap((run) => {
      const seconds = finalTimeOf(run, segments);
      if (seconds === undefined) return [];
      return [{ day: runnerDayOf(run.start, dayStarts), start: formatMoment(run.start), seconds }];
    });
}

/** The total of a run; where none is written, the sum of its segments, if each of the route has a time. */
function finalTimeOf(
  { kind, endings, total, times }: Run,
  segments: ReadonlySet<string>,
): number | undefined {
  if (kind !== 'run' || endings.length > 0) return undefined;
  if (total !== undefined) return total > 0 ? total : undefined;
  const timed = times.filter(({ id }) => segments.has(id));
  if (segments.size === 0 || timed.length < segments.size) return undefined;
  return timed.reduce((sum, { seconds }) => sum + seconds, 0);
}
