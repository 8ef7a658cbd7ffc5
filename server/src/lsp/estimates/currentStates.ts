import type { State } from '../../files/documents/documents.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { lastDay } from '../../queries/modelLogs.ts';
import type { Project } from '../../workspace/project.ts';
import { ownPart } from '../../workspace/runnerFiles.ts';
import { statesOf } from '../../queries/techniqueStates.ts';
import type { Session } from '../server/session.ts';

/**
 * What each technique is to the runner today; a technique that is missing is not begun. It is read from the files
 * without any estimate, and so is cheap enough for each keystroke.
 *
 * @returns undefined where several runners are named: the same technique may be something else to each
 */
export function statesNow(session: Session, project: Project): ReadonlyMap<string, State> | undefined {
  const own = ownPart(project);
  if ('runners' in own) return undefined;
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const last = lastDay(own, dayStarts);
  const asOf = session.estimates.day(own) ?? (last === undefined ? 0 : last + 1);
  return statesOf(project, own, dayStarts, asOf);
}
