// A language server that looks at nothing: after an edit it says at once what the benchmark waits for. What it takes is
// what the protocol, the pipe and the client take, and no server can be faster than that.
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
// A mistake is one letter put in, and mended by taking it out.
connection.onDidChangeTextDocument(({ textDocument, contentChanges }) =>
  publish(
    textDocument,
    contentChanges.some(({ text }) => text !== ''),
  ),
);
connection.listen();
