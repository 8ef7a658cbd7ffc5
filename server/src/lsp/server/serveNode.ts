import { byScheme, clientFiles } from './clientFiles.ts';
import type { Serve } from './handshake.ts';
import { journalsByScheme } from '../../journal/logJournal.ts';
import { clientJournals } from '../practice/practiceRequests.ts';
import { startServer } from './server.ts';
import { editorJournals } from '../../journal/editorJournals.ts';
import { stateFolder } from '../../journal/journalPaths.ts';
import { nodeFiles } from '../../workspace/nodeFileSource.ts';

/** The server in Node: files and journals that lie on no disk come from the client. */
export const serve: Serve = (connection, hello) => {
  const journals = editorJournals(stateFolder(process.env, process.platform));
  startServer(
    connection,
    hello,
    byScheme(nodeFiles(), clientFiles(connection)),
    journalsByScheme(journals, clientJournals(connection)),
  );
};
