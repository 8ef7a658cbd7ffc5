import { clientFiles } from './clientFiles.ts';
import type { ServeClient } from './handshake.ts';
import { clientJournals } from '../practice/clientJournals.ts';
import { startServer } from './server.ts';

/** The server in a browser: files and journals come from the editor. */
export const serve: ServeClient = (connection, hello) => {
  startServer(connection, hello, clientFiles(connection), clientJournals(connection));
};
