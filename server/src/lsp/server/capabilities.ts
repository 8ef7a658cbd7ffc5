import { TextDocumentSyncKind, type ServerCapabilities } from 'vscode-languageserver';
import { codeActionKinds } from '../actions/codeActionKinds.ts';
import { tokenLegend } from '../editing/tokenLegend.ts';

/**
 * What the server can do. It is data only, so that it can be sent before the code that does it is loaded. Every
 * capability named here has its handler in server.ts. What this file imports is data, too: all of it is part of the
 * first bundle.
 */
export const capabilities: ServerCapabilities = {
  positionEncoding: 'utf-16',
  textDocumentSync: {
    openClose: true,
    change: TextDocumentSyncKind.Incremental,
    save: { includeText: true },
  },
  hoverProvider: true,
  completionProvider: { triggerCharacters: [' ', '@', '[', '{', ','] },
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  codeLensProvider: {},
  inlayHintProvider: true,
  documentSymbolProvider: true,
  workspaceSymbolProvider: true,
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  documentLinkProvider: {},
  semanticTokensProvider: { legend: tokenLegend, full: true, range: true },
  callHierarchyProvider: true,
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' },
  codeActionProvider: { codeActionKinds: [...codeActionKinds] },
  workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
};
