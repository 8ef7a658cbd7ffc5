import {
  CodeActionKind,
  TextDocumentSyncKind,
  type SemanticTokensLegend,
  type ServerCapabilities,
} from 'vscode-languageserver';

/** The kind of the action that mends a whole file, as an editor's setting for saving names it. */
export const fixAllKind = `${CodeActionKind.SourceFixAll}.routewright`;

/** The kinds of action that there are. */
export const codeActionKinds: readonly string[] = [
  CodeActionKind.QuickFix,
  CodeActionKind.RefactorRewrite,
  fixAllKind,
];

export const tokenTypes = ['function', 'event', 'variable', 'enumMember'] as const;
export const tokenModifiers = ['declaration', 'deprecated', 'inRun', 'learning', 'unlearned'] as const;

/** Of the protocol's own types and modifiers where one fits; the state of a technique is a modifier of ours. */
export const legend: SemanticTokensLegend = {
  tokenTypes: [...tokenTypes],
  tokenModifiers: [...tokenModifiers],
};

/**
 * What the server can do: data only, so that it can be told before what does it is loaded. What concerns the text of a
 * file is answered in editing.ts, and nothing else is.
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
  semanticTokensProvider: { legend, full: true, range: true },
  callHierarchyProvider: true,
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' },
  codeActionProvider: { codeActionKinds: [...codeActionKinds] },
  workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
};
