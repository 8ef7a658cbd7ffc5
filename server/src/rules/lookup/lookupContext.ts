import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { RouteIndex } from './routeIndex.ts';

/** What a project is looked up with. */
export interface LookupContext {
  readonly project: Project;
  /** The logs and week of the runner in question; all files where several are named and none is chosen. */
  readonly own: RunnerFiles;
  /** Day number of today, where one is known: only then can a date be in the future. */
  readonly today: number | undefined;
  /** What was found out about the route's entries at the check before. */
  readonly routeIndex?: RouteIndex;
}
