import { scalarToYaml } from '../../files/edit/flowYaml.ts';
import { setSectionValue } from '../../files/edit/setSectionValue.ts';
import { stemOf } from '../../files/fileKind.ts';
import type { SetStateParams, SetStateResult } from '../../protocol/messages.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { currentTechniqueId, type Project, type WeekFile } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { normalUri } from '../documents/openDocuments.ts';
import { resolveProject } from './rank.ts';
import { fileName, type Session } from '../server/session.ts';

type State = SetStateParams['state'];

/** The edit that sets a technique's state: in the week file where there is one, else in a new one. */
export async function setState(
  session: Session,
  { uri, technique, state }: SetStateParams,
): Promise<SetStateResult> {
  const asked = resolveProject(session, normalUri(uri));
  if ('message' in asked) return asked;
  const { project, own } = asked;
  const id = currentTechniqueId(project, technique);
  if (id === undefined) return { message: `The route has no technique ${sanitizeForTerminal(technique)}.` };
  const name = sanitizeForTerminal(project.techniques.get(id)?.name ?? id);
  return own.week
    ? editWeekFile(session, project, own.week, { id, name, state })
    : createWeekFile(session, project, own, { id, name, state });
}

interface StateChange {
  readonly id: string;
  readonly name: string;
  readonly state: State;
}

function editWeekFile(
  session: Session,
  project: Project,
  { uri, reading, document }: WeekFile,
  { id, name, state }: StateChange,
): SetStateResult {
  const file = fileName(uri);
  // The last entry counts, also under an id that the technique had before.
  const written = document.states.filter((entry) => currentTechniqueId(project, entry.id) === id).at(-1);
  if (written?.state === state) return { message: `${name} is set to ${state} in ${file} already.` };
  const edit = setSectionValue(reading, 'states', written?.id ?? id, state);
  if (!edit) {
    const message = `${file} is written in a way that no safe edit fits. Set ${id}: ${state} under states: by hand.`;
    return { message };
  }
  return {
    edit: {
      uri: session.documents.spelling(uri),
      version: session.documents.version(uri) ?? null,
      range: session.positions.range(uri, edit),
      newText: edit.text,
      create: false,
    },
    message: `${name} is set to ${state} in ${file}.`,
  };
}

async function createWeekFile(
  session: Session,
  { route }: Project,
  { runner }: RunnerFiles,
  { id, name, state }: StateChange,
): Promise<SetStateResult> {
  const uri = await freeWeekFileUri(session, stemOf(route.uri));
  if (uri === undefined) return { message: 'There is no free name for a week file beside the route.' };
  const start = { line: 0, character: 0 };
  const lines = [...newWeekFileHeader(fileName(route.uri), runner), 'states:', `  ${id}: ${state}`];
  return {
    edit: {
      uri,
      version: null,
      range: { start, end: start },
      newText: `${lines.join('\n')}\n`,
      create: true,
    },
    message: `There is no week file for this route yet. ${fileName(uri)} is created, with ${name} set to ${state}.`,
  };
}

/** The first lines of a new week file: whose it is. */
export function newWeekFileHeader(route: string, runner: string | undefined): string[] {
  return [
    `route: ${scalarToYaml(route)}`,
    ...(runner === undefined ? [] : [`runner: ${scalarToYaml(runner)}`]),
  ];
}

/** A name for a week file that nothing has yet, known here or not. */
export async function freeWeekFileUri(session: Session, stem: string): Promise<string | undefined> {
  for (const ending of ['.week.yaml', '-2.week.yaml', '-3.week.yaml', '-4.week.yaml']) {
    const uri = `${stem}${ending}`;
    if (!session.workspace.file(uri) && !(await session.exists(uri))) return uri;
  }
  return undefined;
}
