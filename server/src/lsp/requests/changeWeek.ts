import { addsNoProblems } from '../../files/edit/intendedEffect.ts';
import { listIncludes, setListMembership } from '../../files/edit/setListMembership.ts';
import type { TextEdit } from '../../files/edit/textEdit.ts';
import { stemOf } from '../../files/fileKind.ts';
import type { ChangeWeekParams, ChangeWeekResult, PanelChange } from '../../protocol/panel.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { currentTechniqueId, type Project, type WeekFile } from '../../workspace/project.ts';
import { normalUri } from '../documents/openDocuments.ts';
import { resolveProject } from './rank.ts';
import { fileName, type Session } from '../server/session.ts';
import { freeWeekFileUri, newWeekFileHeader, setState } from './setState.ts';

/** What a change does to a list of the week file, and how it is told. */
interface ListChange {
  readonly key: 'pin' | 'leave_out';
  readonly listed: boolean;
  /** The list that may not hold the technique at the same time. */
  readonly against?: 'pin' | 'leave_out';
  readonly done: string;
}

const listChanges: Readonly<Record<Exclude<PanelChange, 'learning'>, ListChange>> = {
  pin: { key: 'pin', listed: true, against: 'leave_out', done: 'is pinned' },
  unpin: { key: 'pin', listed: false, done: 'is no longer pinned' },
  'leave-out': { key: 'leave_out', listed: true, against: 'pin', done: 'is left out' },
  'take-back': { key: 'leave_out', listed: false, done: 'is no longer left out' },
};

/** The edit that changes what the week file says of a technique; in a new week file where there is none. */
export async function changeWeek(
  session: Session,
  { uri, technique, change }: ChangeWeekParams,
): Promise<ChangeWeekResult> {
  if (change === 'learning') {
    const { edit, message } = await setState(session, { uri, technique, state: 'learning' });
    if (!edit) return { message };
    const { range, newText, ...rest } = edit;
    return { edit: { ...rest, changes: [{ range, newText }] }, message };
  }
  const asked = resolveProject(session, normalUri(uri));
  if ('message' in asked) return asked;
  const { project, own } = asked;
  const id = currentTechniqueId(project, technique);
  if (id === undefined) return { message: `The route has no technique ${sanitizeForTerminal(technique)}.` };
  const name = sanitizeForTerminal(project.techniques.get(id)?.name ?? id);
  const wanted = listChanges[change];
  if (own.week) return editWeekFile(session, project, own.week, id, name, wanted);
  if (!wanted.listed) return { message: `${name} is in no week file, so nothing is to be changed.` };
  return createWeekFile(session, project, own.runner, id, name, wanted);
}

function editWeekFile(
  session: Session,
  project: Project,
  { uri, reading }: WeekFile,
  id: string,
  name: string,
  { key, listed, against, done }: ListChange,
): ChangeWeekResult {
  const file = fileName(uri);
  const edits: TextEdit[] = [];
  const steps = [{ key, listed }, ...(against ? [{ key: against, listed: false }] : [])];
  for (const step of steps) {
    // An entry may still stand under an id that the technique had before.
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
  return {
    edit: {
      uri: session.documents.spelling(uri),
      version: session.documents.version(uri) ?? null,
      changes: edits.map((edit) => ({ range: session.positions.range(uri, edit), newText: edit.text })),
      create: false,
    },
    message: `${name} ${done} in ${file}.`,
  };
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

async function createWeekFile(
  session: Session,
  { route }: Project,
  runner: string | undefined,
  id: string,
  name: string,
  { key, done }: ListChange,
): Promise<ChangeWeekResult> {
  const uri = await freeWeekFileUri(session, stemOf(route.uri));
  if (uri === undefined) return { message: 'There is no free name for a week file beside the route.' };
  const start = { line: 0, character: 0 };
  const lines = [...newWeekFileHeader(fileName(route.uri), runner), `${key}: [${id}]`];
  return {
    edit: {
      uri,
      version: null,
      changes: [{ range: { start, end: start }, newText: `${lines.join('\n')}\n` }],
      create: true,
    },
    message: `There is no week file for this route yet. ${fileName(uri)} is created, and ${name} ${done} there.`,
  };
}
