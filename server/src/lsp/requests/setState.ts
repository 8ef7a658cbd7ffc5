import { setSectionValue } from '../../files/edit/setSectionValue.ts';
import type { FileEditResult } from '../../protocol/fileEdit.ts';
import type { SetStateParams } from '../../protocol/messages/week.ts';
import { currentTechniqueId, type Project, type WeekFile } from '../../workspace/project.ts';
import { fileName } from '../documents/uris.ts';
import { fileEdit } from '../documents/workspaceEdit.ts';
import { resolveTechnique } from './resolveProject.ts';
import { newWeekFile, type WeekFileNeeds } from './weekFile.ts';

/** The edit that sets a technique's state: in the week file where there is one, otherwise in a new one. */
export function setStateHandler(needs: WeekFileNeeds): (params: SetStateParams) => Promise<FileEditResult> {
  return (params) => setState(needs, params);
}

/** The same for one state. The code actions that change a state use it. */
export async function setState(
  needs: WeekFileNeeds,
  { uri, technique, state }: SetStateParams,
): Promise<FileEditResult> {
  const resolved = resolveTechnique(needs.workspace, uri, technique);
  if ('message' in resolved) return resolved;
  const { project, own, id, name } = resolved;
  if (own.week) return editWeekFile(needs, project, own.week, { id, name, state });
  const done = (file: string) => `${file} is created, with ${name} set to ${state}.`;
  return newWeekFile(needs, project, own.runner, ['states:', `  ${id}: ${state}`], done);
}

interface StateChange {
  readonly id: string;
  readonly name: string;
  readonly state: SetStateParams['state'];
}

function editWeekFile(
  needs: WeekFileNeeds,
  project: Project,
  { uri, reading, document }: WeekFile,
  { id, name, state }: StateChange,
): FileEditResult {
  const file = fileName(uri);
  // The last entry counts. It may be written under a former id of the technique.
  const written = document.states.filter((entry) => currentTechniqueId(project, entry.id) === id).at(-1);
  if (written?.state === state) return { message: `${name} is set to ${state} in ${file} already.` };
  const edit = setSectionValue(reading, 'states', written?.id ?? id, state);
  if (!edit) {
    const message = `${file} is written in a way that no safe edit fits. Set ${id}: ${state} under states: by hand.`;
    return { message };
  }
  return { edit: fileEdit(needs, uri, [edit]), message: `${name} is set to ${state} in ${file}.` };
}
