// A language server without any checks: after an edit it publishes at once what the benchmark waits for. Its time is
// that of the protocol, the pipe and the client, so no server can be faster.
import { createConnection, TextDocumentSyncKind } from 'vscode-languageserver/node';

const connection = createConnection(process.stdin, process.stdout);
const everywhere = { start: { line: 0, character: 0 }, end: { line: 1_000_000, character: 0 } };
const publish = ({ uri, version }, wrong) =>
  connection.sendDiagnostics({
    uri,
    version,
    diagnostics: wrong ? [{ severity: 1, range: everywhere, message: 'x' }] : [],
  });
connection.onInitialize(() => ({ capabilities: { textDocumentSync: TextDocumentSyncKind.Incremental } }));
connection.onDidOpenTextDocument(({ textDocument }) => publish(textDocument, true));
// A mistake is one inserted letter, and is corrected by removing the letter.
connection.onDidChangeTextDocument(({ textDocument, contentChanges }) =>
  publish(
    textDocument,
    contentChanges.some(({ text }) => text !== ''),
  ),
);
connection.listen();
