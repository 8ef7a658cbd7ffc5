import { stemOf } from '../../files/fileKind.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { planIcs } from './planIcs.ts';
import type { PlanReport } from './planReport.ts';

/** Used where nobody says when a session starts and the logs do not either: seven in the evening. */
const defaultStart = 19 * 60;

/** A plan as a calendar file, with the time of day at which its sessions start. */
export interface PlanCalendar {
  /** The calendar file (RFC 5545). */
  readonly text: string;
  /** Such as `19:30`. */
  readonly startsAt: string;
}

/**
 * The calendar of a runner's plan. The command line and the editor write the same one.
 *
 * @param at minutes after midnight at which sessions start; left out: as they usually do in the logs
 */
export function planCalendar(
  project: Project,
  own: RunnerFiles,
  report: PlanReport,
  at = usualStart(own),
): PlanCalendar {
  const { route } = project;
  const { game, category } = route.document;
  const stem = stemOf(route.uri);
  const text = planIcs(report, {
    title: `${game ?? 'No game named'}, ${category ?? 'no category named'}`,
    key: calendarKey([stem.slice(stem.lastIndexOf('/') + 1), own.runner ?? '']),
    names: techniqueNamesOf(project),
    startMinute: at,
    dayStarts: dayStartsOf(own),
  });
  const two = (value: number): string => String(value).padStart(2, '0');
  return { text, startsAt: `${two(Math.floor(at / 60))}:${two(at % 60)}` };
}

/** Minutes after midnight at which the runner's sessions usually start: the median of the logs. */
function usualStart(own: RunnerFiles): number {
  const starts = own.practice
    .flatMap(({ document }) => document.sessions)
    .flatMap(({ start }) => start.minute ?? [])
    .sort((a, b) => a - b);
  return Math.floor(starts[starts.length >> 1] ?? defaultStart);
}

/** Letters, digits and hyphens only: enough to distinguish one route and runner from another. */
function calendarKey(parts: readonly string[]): string {
  return parts
    .map((part) => encodeURIComponent(part).replace(/[^A-Za-z0-9]+/g, '-'))
    .filter((part) => part !== '')
    .join('-');
}
