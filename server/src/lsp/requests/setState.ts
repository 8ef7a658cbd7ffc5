import { readAfter } from '../../files/edit/intendedEffect.ts';
import { setSectionValue } from '../../files/edit/setSectionValue.ts';
import { singleEdit, type TextEdit } from '../../files/edit/textEdit.ts';
import type { Reading } from '../../files/reading/reading.ts';
import type { FileEditResult } from '../../protocol/fileEdit.ts';
import type { SetStateParams, SwapParams } from '../../protocol/messages/week.ts';
import { isRefusal } from '../../protocol/refusal.ts';
import { formatList } from '../../text/format.ts';
import { currentTechniqueId, type Project, type WeekFile } from '../../workspace/project.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import { fileEdit } from '../documents/workspaceEdit.ts';
import { resolveProject, techniqueOf } from './resolveProject.ts';
import { newWeekFile } from './weekFile.ts';

/** The edit that sets a technique's state: in the week file where there is one, otherwise in a new one. */
export function setStateHandler(needs: FileServices): (params: SetStateParams) => Promise<FileEditResult> {
  return (params) => setState(needs, params);
}

/** The same for one state. The code actions that change a state use it. */
export function setState(
  needs: FileServices,
  { uri, technique, state }: SetStateParams,
): Promise<FileEditResult> {
  return setStates(needs, uri, [{ technique, state, done: `is set to ${state}` }]);
}

/** The edit that puts one technique aside and takes another up, as one step to undo. */
export function swapHandler(needs: FileServices): (params: SwapParams) => Promise<FileEditResult> {
  return (params) => swap(needs, params);
}

/** The same for one swap. The code actions that make the swaps on offer use it. */
export function swap(needs: FileServices, { uri, technique, instead }: SwapParams): Promise<FileEditResult> {
  return setStates(needs, uri, [
    { technique, state: 'unlearned', done: 'is put aside' },
    { technique: instead, state: 'learning', done: 'is taken up' },
  ]);
}

interface StateChange {
  /** Id of the technique, also a former one. */
  readonly technique: string;
  readonly state: SetStateParams['state'];
  /** What is said of the technique afterwards. */
  readonly done: string;
}

/** The edit that sets the states of techniques, all of them or none. */
async function setStates(
  needs: FileServices,
  uri: string,
  changes: readonly StateChange[],
): Promise<FileEditResult> {
  const resolved = resolveProject(needs.workspace, normalUri(uri));
  if (isRefusal(resolved)) return resolved;
  const { project, own } = resolved;
  const states: { readonly id: string; readonly state: StateChange['state'] }[] = [];
  const said: string[] = [];
  for (const { technique, state, done } of changes) {
    const named = techniqueOf(project, technique);
    if (isRefusal(named)) return named;
    states.push({ id: named.id, state });
    said.push(`${named.name} ${done}`);
  }
  if (own.week) return editWeekFile(needs, project, own.week, states, formatList(said));
  const lines = states.map(({ id, state }) => `  ${id}: ${state}`);
  const created = (file: string) => `${file} is created, and ${formatList(said)} there.`;
  return newWeekFile(needs, project, own, ['states:', ...lines], created);
}

function editWeekFile(
  needs: FileServices,
  project: Project,
  { uri, reading, document }: WeekFile,
  states: readonly { readonly id: string; readonly state: StateChange['state'] }[],
  said: string,
): FileEditResult {
  const file = fileName(uri);
  const changed = states.flatMap(({ id, state }) => {
    // The last entry counts. It may be written under a former id of the technique.
    const written = document.states.filter((entry) => currentTechniqueId(project, entry.id) === id).at(-1);
    return written?.state === state ? [] : [{ id: written?.id ?? id, state }];
  });
  if (changed.length === 0) return { message: `${said} in ${file} already.` };
  const edit = statesEdit(reading, changed);
  if (!edit) {
    const lines = formatList(changed.map(({ id, state }) => `${id}: ${state}`));
    return {
      message: `${file} is written in a way that no safe edit fits. Set ${lines} under states: by hand.`,
    };
  }
  return { edit: fileEdit(needs, uri, [edit]), message: `${said} in ${file}.` };
}

/** One edit for several states: each is set in the text that the one before leaves. Undefined where one does not fit. */
function statesEdit(
  reading: Reading,
  states: readonly { readonly id: string; readonly state: StateChange['state'] }[],
): TextEdit | undefined {
  let after: Reading | undefined = reading;
  for (const { id, state } of states) {
    const edit: TextEdit | undefined = after && setSectionValue(after, 'states', id, state);
    after = after && edit && readAfter(after, [edit]);
  }
  return after && singleEdit(reading.text, after.text);
}
