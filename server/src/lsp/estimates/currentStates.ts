import type { TechniqueState } from '../../files/documents/documents.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import type { Project } from '../../workspace/project.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { techniqueStatesOf } from '../../queries/techniqueStates.ts';
import type { Estimates } from './estimates.ts';

/**
 * The state that the runner gives each technique today; a technique that is missing is not begun. It is read from the
 * files without any estimate, so it is fast enough to run at each keystroke.
 *
 * @returns undefined where several runners are named: each may give a technique another state
 */
export function currentStates(
  estimates: Estimates,
  project: Project,
): ReadonlyMap<string, TechniqueState> | undefined {
  const own = runnerFilesOf(project);
  if ('runners' in own) return undefined;
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  return techniqueStatesOf(project, own, dayStarts, estimates.day(own));
}
