import { addsNoProblems } from '../../files/edit/intendedEffect.ts';
import { listIncludes, setListMembership } from '../../files/edit/setListMembership.ts';
import type { TextEdit } from '../../files/edit/textEdit.ts';
import type { FileEditResult } from '../../protocol/fileEdit.ts';
import type { ChangeWeekParams } from '../../protocol/messages/week.ts';
import type { PanelChange } from '../../protocol/panel/pageMessages.ts';
import { currentTechniqueId, type Project, type WeekFile } from '../../workspace/project.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { fileName } from '../documents/uris.ts';
import { fileEdit } from '../documents/workspaceEdit.ts';
import { resolveTechnique } from './resolveProject.ts';
import { setState } from './setState.ts';
import { newWeekFile } from './weekFile.ts';

/** What a change does to a list of the week file, and the sentence about it. */
interface ListChange {
  readonly key: 'pin' | 'leave_out';
  readonly listed: boolean;
  /** The list that must not hold the technique at the same time. */
  readonly against?: 'pin' | 'leave_out';
  readonly done: string;
}

const listChanges: Readonly<Record<Exclude<PanelChange, 'learning'>, ListChange>> = {
  pin: { key: 'pin', listed: true, against: 'leave_out', done: 'is pinned' },
  unpin: { key: 'pin', listed: false, done: 'is no longer pinned' },
  'leave-out': { key: 'leave_out', listed: true, against: 'pin', done: 'is left out' },
  'take-back': { key: 'leave_out', listed: false, done: 'is no longer left out' },
};

/** The edit that changes an entry of a technique in the week file, or creates a week file where there is none. */
export function changeWeekHandler(
  needs: FileServices,
): (params: ChangeWeekParams) => Promise<FileEditResult> {
  return async ({ uri, technique, change }) =>
    change === 'learning'
      ? setState(needs, { uri, technique, state: 'learning' })
      : changeList(needs, uri, technique, listChanges[change]);
}

async function changeList(
  needs: FileServices,
  uri: string,
  technique: string,
  change: ListChange,
): Promise<FileEditResult> {
  const resolved = resolveTechnique(needs.workspace, uri, technique);
  if ('message' in resolved) return resolved;
  const { project, own, id, name } = resolved;
  if (own.week) return editWeekFile(needs, project, own.week, id, name, change);
  const { key, listed, done } = change;
  if (!listed) return { message: `${name} is in no week file, so nothing is to be changed.` };
  const created = (file: string) => `${file} is created, and ${name} ${done} there.`;
  return newWeekFile(needs, project, own, [`${key}: [${id}]`], created);
}

function editWeekFile(
  needs: FileServices,
  project: Project,
  { uri, reading }: WeekFile,
  id: string,
  name: string,
  { key, listed, against, done }: ListChange,
): FileEditResult {
  const file = fileName(uri);
  const edits: TextEdit[] = [];
  const steps = [{ key, listed }, ...(against ? [{ key: against, listed: false }] : [])];
  for (const step of steps) {
    // The entry may be written under a former id of the technique.
    const written = listedId(project, reading, step.key, id) ?? id;
    if (listIncludes(reading, step.key, written) === step.listed) continue;
    const edit = setListMembership(reading, step.key, written, step.listed);
    if (!edit) {
      const verb = step.listed ? `Add ${id} under` : `Take ${written} out of`;
      const message = `${file} is written in a way that no safe edit fits. ${verb} ${step.key}: by hand.`;
      return { message };
    }
    edits.push(edit);
  }
  if (edits.length === 0) return { message: `${name} ${done} in ${file} already.` };
  if (!addsNoProblems(reading, edits)) {
    return { message: `${file} is written in a way that no safe edit fits. Change ${key}: by hand.` };
  }
  return { edit: fileEdit(needs, uri, edits), message: `${name} ${done} in ${file}.` };
}

function listedId(
  project: Project,
  { value }: WeekFile['reading'],
  key: string,
  id: string,
): string | undefined {
  const list = value[key];
  if (!Array.isArray(list)) return undefined;
  return (list as unknown[]).find(
    (word): word is string => typeof word === 'string' && currentTechniqueId(project, word) === id,
  );
}
