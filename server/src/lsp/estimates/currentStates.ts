import type { TechniqueState } from '../../files/documents/documents.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { lastLoggedDay } from '../../queries/modelLogs.ts';
import type { Project } from '../../workspace/project.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { techniqueStatesOf } from '../../queries/techniqueStates.ts';
import type { Estimates } from './estimates.ts';

/**
 * What each technique is to the runner today; a technique that is missing is not begun. It is read from the files
 * without any estimate, and so is cheap enough for each keystroke.
 *
 * @returns undefined where several runners are named: the same technique may be something else to each
 */
export function currentStates(
  estimates: Estimates,
  project: Project,
): ReadonlyMap<string, TechniqueState> | undefined {
  const own = runnerFilesOf(project);
  if ('runners' in own) return undefined;
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const last = lastLoggedDay(own, dayStarts);
  const asOf = estimates.day(own) ?? (last === undefined ? 0 : last + 1);
  return techniqueStatesOf(project, own, dayStarts, asOf);
}
