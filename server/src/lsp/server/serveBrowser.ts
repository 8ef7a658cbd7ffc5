import { clientFiles } from './clientFiles.ts';
import type { ServeClient } from './handshake.ts';
import { clientJournals } from '../practice/clientJournals.ts';
import { startServer } from './server.ts';
import { editorLimits, limitReads } from '../../workspace/limitReads.ts';

/** The server in a browser: files and journals come from the editor. */
export const serve: ServeClient = (connection, hello) => {
  const files = limitReads(clientFiles(connection), editorLimits);
  startServer(connection, hello, files, clientJournals(connection));
};
