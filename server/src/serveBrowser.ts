import { clientFiles } from './features/clientFiles.ts';
import type { Serve } from './features/greeting.ts';
import { clientJournals } from './features/practiceRequests.ts';
import { startServer } from './features/server.ts';

/** The server in a browser: files and journals come from the editor. */
export const serve: Serve = (connection, hello) => {
  startServer(connection, hello, clientFiles(connection), clientJournals(connection));
};
