import type { Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';

/** A time to beat, and where it is written. */
export interface Target {
  /** Seconds. */
  readonly seconds: number;
  readonly from: 'asked' | 'week' | 'route';
}

/**
 * The time to beat: the one asked for, else the runner's own in the week file, else the route's.
 *
 * @param requested seconds
 */
export function resolveTarget(project: Project, own: RunnerFiles, requested?: number): Target | undefined {
  if (requested !== undefined) return { seconds: requested, from: 'asked' };
  const week = own.week?.document.target;
  if (week !== undefined) return { seconds: week, from: 'week' };
  const route = [project.route, ...project.bases].find(({ document }) => document.target !== undefined);
  const seconds = route?.document.target;
  return seconds === undefined ? undefined : { seconds, from: 'route' };
}
