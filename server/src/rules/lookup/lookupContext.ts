import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { RouteIndex } from './routeIndex.ts';

/** A project, with what else is needed to look things up in it. */
export interface LookupContext {
  readonly project: Project;
  /** The logs and week of the runner in question; all files where several are named and none is chosen. */
  readonly own: RunnerFiles;
  /** Day number of the day that the findings are for: today, unless another was asked for. A later date is in the future. */
  readonly today: number;
  /** Results about the route's entries from the previous check. */
  readonly routeIndex?: RouteIndex;
}
