import { parentPort } from 'node:worker_threads';
import { createConnection, PortMessageReader, PortMessageWriter } from 'vscode-languageserver/node';
import { byScheme, clientFiles } from './features/clientFiles.ts';
import { journalsByScheme } from './features/practiceJournals.ts';
import { clientJournals } from './features/practiceRequests.ts';
import { startServer } from './features/server.ts';
import { editorJournals } from './journal/editorJournals.ts';
import { stateFolder } from './journal/place.ts';
import { nodeFiles } from './workspace/nodeFiles.ts';

/**
 * The language server in Node: as a thread of the editor's extension host, which starts no process, or over
 * the pipe that the command line names, such as `--stdio`.
 */
const connection = parentPort
  ? createConnection(new PortMessageReader(parentPort), new PortMessageWriter(parentPort))
  : createConnection();
startServer(
  connection,
  byScheme(nodeFiles(), clientFiles(connection)),
  journalsByScheme(editorJournals(stateFolder(process.env, process.platform)), clientJournals(connection)),
);
