import { fileSourceByScheme, clientFiles } from './clientFiles.ts';
import type { ServeClient } from './handshake.ts';
import { journalsByScheme } from '../../journal/logJournal.ts';
import { clientJournals } from '../practice/clientJournals.ts';
import { startServer } from './server.ts';
import { editorJournals } from '../../journal/editorJournals.ts';
import { stateFolder } from '../../journal/journalPaths.ts';
import { editorLimits, limitReads } from '../../workspace/limitReads.ts';
import { nodeFileSource } from '../../workspace/nodeFileSource.ts';

/** The server in Node: files and journals that lie on no disk come from the client. */
export const serve: ServeClient = (connection, hello) => {
  const journals = editorJournals(stateFolder(process.env, process.platform));
  startServer(
    connection,
    hello,
    fileSourceByScheme(nodeFileSource(), limitReads(clientFiles(connection), editorLimits)),
    journalsByScheme(journals, clientJournals(connection)),
  );
};
