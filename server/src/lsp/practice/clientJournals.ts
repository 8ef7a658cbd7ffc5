import type { Connection } from 'vscode-languageserver';
import type { LogJournals } from '../../journal/logJournal.ts';
import { storageJournals } from '../../journal/storageJournals.ts';
import { readJournalRequest, writeJournalRequest } from '../../protocol/messages/clientFiles.ts';
import { requestOr } from '../../protocol/messages/message.ts';

/** Journals that the client stores, for files that are on no disk. A client without this feature stores nothing. */
export function clientJournals(connection: Connection): LogJournals {
  return storageJournals({
    save: (uri, text) =>
      requestOr(connection, writeJournalRequest, { uri, text }, 'this editor has no storage for it'),
    load: (uri) => requestOr(connection, readJournalRequest, { uri }, null),
  });
}
