import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { RouteIndex } from './routeIndex.ts';

/** A project, with what else is needed to look things up in it. */
export interface LookupContext {
  readonly project: Project;
  /** The logs and week of the runner in question; all files where several are named and none is chosen. */
  readonly own: RunnerFiles;
  /** Day number of today, where one is known: only then can a date be in the future. */
  readonly today: number | undefined;
  /** Results about the route's entries from the previous check. */
  readonly routeIndex?: RouteIndex;
}
