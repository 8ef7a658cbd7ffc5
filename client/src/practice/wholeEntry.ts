import { l10n } from 'vscode';
import type { LogEntryResult } from '../../../server/src/protocol/messages/logEntry.ts';
import type { LogFile } from '../../../server/src/protocol/messages/practiceOffer.ts';
import type { Refusal } from '../../../server/src/protocol/refusal.ts';
import { createMissingFile } from '../editor/fileEdits.ts';

/** An entry that was logged, or why it was not. */
export type LoggedEntry = Exclude<LogEntryResult, { readonly begin: unknown }>;

/**
 * Logs a whole block, run or evening. A log that does not exist yet is created once the server has found the entry in
 * order, so that nobody who only looks at a form gets an empty file.
 *
 * @param log the log that the entry goes into, with the edit that begins it
 * @param route any file of the route
 * @param ask asks the server to log the entry into the log of a file
 */
export async function logWholeEntry(
  { uri, begin }: LogFile,
  route: string,
  ask: (uri: string) => Promise<LogEntryResult>,
): Promise<LoggedEntry> {
  const result = await ask(begin ? route : uri);
  if (!('begin' in result)) return result;
  await createMissingFile(result.begin);
  const again = await ask(result.begin.uri);
  return 'begin' in again ? cannotBegin(uri) : again;
}

function cannotBegin(uri: string): Refusal {
  return {
    message: l10n.t('Nothing was logged: {0} cannot be created.', uri.slice(uri.lastIndexOf('/') + 1)),
  };
}
