import { Utils, URI } from 'vscode-uri';
import { chooseLog } from '../../logging/chooseLog.ts';
import { logNameTaken, newLogText, type LogKind } from '../../logging/newLog.ts';
import { newFileEdit } from '../../protocol/fileEdit.ts';
import type { LogFile } from '../../protocol/messages/practiceOffer.ts';
import type { Refusal } from '../../protocol/refusal.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { normalUri } from '../documents/uris.ts';
import type { PracticeServices } from './practiceServices.ts';

/** The log file that entries go into, with its first text where the file does not exist yet. */
export async function logFileOf(
  services: Pick<PracticeServices, 'documents' | 'workspace'>,
  project: Project,
  own: RunnerFiles,
  kind: LogKind,
  requestedUri: string,
): Promise<LogFile | Refusal> {
  const route = baseName(project.route.uri);
  const { uri, isNew } = chooseLog(project, own, kind, normalUri(requestedUri));
  if (!isNew) return { uri: services.documents.spelling(uri), begin: null };
  if (services.workspace.file(uri) || (await services.workspace.read(uri)) !== undefined)
    return { message: logNameTaken(baseName(uri), route) };
  return { uri, begin: newFileEdit(uri, newLogText(kind, route, own.runner)) };
}

function baseName(uri: string): string {
  return Utils.basename(URI.parse(uri));
}
