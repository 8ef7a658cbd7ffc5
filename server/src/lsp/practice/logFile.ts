import { chooseLog } from '../../logging/chooseLog.ts';
import { logNameTaken, newLogText, type LogKind } from '../../logging/newLog.ts';
import { newFileEdit } from '../../protocol/fileEdit.ts';
import type { LogFile } from '../../protocol/messages/practiceOffer.ts';
import { isRefusal, type Refusal } from '../../protocol/refusal.ts';
import type { Project } from '../../workspace/project.ts';
import { relativePath } from '../../workspace/relativePath.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { fileAt } from '../documents/fileServices.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import { resolveProject } from '../requests/resolveProject.ts';
import type { PracticeServices } from './practiceServices.ts';

/** The log file that entries go into, with its first text where the file does not exist yet. */
export async function logFileOf(
  services: Pick<PracticeServices, 'documents' | 'workspace'>,
  project: Project,
  own: RunnerFiles,
  kind: LogKind,
  requestedUri: string,
): Promise<LogFile | Refusal> {
  const route = fileName(project.route.uri);
  const { uri, isNew } = chooseLog(project, own, kind, normalUri(requestedUri));
  if (!isNew) return { uri: services.documents.spelling(uri), begin: null };
  if (services.workspace.file(uri) || (await services.workspace.read(uri)) !== undefined)
    return { message: logNameTaken(fileName(uri), route) };
  return { uri, begin: newFileEdit(uri, newLogText(kind, relativePath(uri, project.route.uri), own.runner)) };
}

/** The route that an entry is for, and the log that it goes into. */
export interface EntryLog extends LogFile {
  readonly project: Project;
}

/**
 * The log that an entry goes into, and its route.
 *
 * @param uri the log, or any file of the route where there is no log yet
 */
export async function entryLogOf(
  services: PracticeServices,
  kind: LogKind,
  uri: string,
): Promise<EntryLog | Refusal> {
  const name = normalUri(uri);
  // The client has just created it, and the editor may not have told the server yet.
  if (fileAt(services.workspace, name) === undefined) await services.sync.filesChanged([name]);
  const resolved = resolveProject(services.workspace, name);
  if (isRefusal(resolved)) return resolved;
  const log = await logFileOf(services, resolved.project, resolved.own, kind, name);
  return isRefusal(log) ? log : { ...log, project: resolved.project };
}
