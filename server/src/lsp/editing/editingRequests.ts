import { CodeLensRefreshRequest, type CancellationToken, type Connection } from 'vscode-languageserver';
import type { ErrorBoundary } from '../server/errorBoundary.ts';
import { incomingCalls, prepareCallHierarchy, outgoingCalls } from './callHierarchy.ts';
import { codeActions } from '../actions/codeActions.ts';
import { codeLenses } from './codeLens.ts';
import { completion } from './completion.ts';
import { definition } from './definition.ts';
import { documentLinks } from './documentLinks.ts';
import { foldingRanges } from './folding.ts';
import { formatting, onTypeFormatting, rangeFormatting } from './formatting.ts';
import { hover } from './hover.ts';
import { inlayHints } from './inlayHints.ts';
import { documentHighlights, references } from './references.ts';
import { prepareRename, rename } from './rename.ts';
import { selectionRanges } from './selectionRanges.ts';
import { semanticTokens } from './semanticTokens.ts';
import type { Session } from '../server/session.ts';
import { documentSymbols } from './documentSymbols.ts';
import { workspaceSymbols } from './workspaceSymbols.ts';

/** Asks the client to ask again for what stands between the lines, as far as it can be asked. */
export async function refreshInlineEstimates(connection: Connection, { client }: Session): Promise<void> {
  await Promise.all([
    client.refreshLenses && connection.sendRequest(CodeLensRefreshRequest.type),
    client.refreshHints && connection.languages.inlayHint.refresh(),
  ]);
}

/** Waits until the route of a file has its first numbers; an edit that came meanwhile is then taken in. */
async function waitForEstimates(session: Session, uri: string, token: CancellationToken): Promise<void> {
  const file = session.file(uri);
  const project = file?.kind === 'route' ? session.workspace.projectOf(file.uri) : undefined;
  if (!project || session.inlineEstimates.of(project)) return;
  await session.firstEstimates.available(project, token);
  await session.ready();
}

/** Answers what an editor asks about a place or a file: all that capabilities.ts tells of, and nothing else. */
export function registerEditingRequests(
  connection: Connection,
  session: Session,
  boundary: ErrorBoundary,
): void {
  connection.onHover(boundary.request('Hover', (params) => hover(session, params)));
  connection.onCompletion(boundary.request('Completion', (params) => completion(session, params)));
  connection.onDefinition(boundary.request('Go to definition', (params) => definition(session, params)));
  connection.onReferences(boundary.request('References', (params) => references(session, params)));
  connection.onDocumentHighlight(
    boundary.request('Highlights', (params) => documentHighlights(session, params)),
  );
  connection.onPrepareRename(boundary.request('Rename', (params) => prepareRename(session, params)));
  connection.onRenameRequest(boundary.request('Rename', (params) => rename(session, params)));
  connection.onCodeLens(
    boundary.request('Code lens', async (params, token) => {
      await waitForEstimates(session, params.textDocument.uri, token);
      return codeLenses(session, params);
    }),
  );
  connection.languages.inlayHint.on(
    boundary.request('Hints', async (params, token) => {
      await waitForEstimates(session, params.textDocument.uri, token);
      return inlayHints(session, params);
    }),
  );
  connection.onDocumentSymbol(boundary.request('Symbols', (params) => documentSymbols(session, params)));
  connection.onWorkspaceSymbol(boundary.request('Symbols', (params) => workspaceSymbols(session, params)));
  connection.onFoldingRanges(boundary.request('Folding', (params) => foldingRanges(session, params)));
  connection.onSelectionRanges(boundary.request('Selection', (params) => selectionRanges(session, params)));
  connection.onDocumentLinks(boundary.request('Links', (params) => documentLinks(session, params)));
  const { semanticTokens: tokens, callHierarchy } = connection.languages;
  tokens.on(boundary.request('Colours', (params) => semanticTokens(session, params)));
  tokens.onRange(boundary.request('Colours', (params) => semanticTokens(session, params, params.range)));
  callHierarchy.onPrepare(boundary.request('Needs', (params) => prepareCallHierarchy(session, params)));
  callHierarchy.onIncomingCalls(
    boundary.request('What it opens', (params) => incomingCalls(session, params)),
  );
  callHierarchy.onOutgoingCalls(
    boundary.request('What it stands on', (params) => outgoingCalls(session, params)),
  );
  connection.onDocumentFormatting(boundary.request('Formatting', (params) => formatting(session, params)));
  connection.onDocumentRangeFormatting(
    boundary.request('Formatting', (params) => rangeFormatting(session, params)),
  );
  connection.onDocumentOnTypeFormatting(
    boundary.request('Formatting', (params) => onTypeFormatting(session, params)),
  );
  connection.onCodeAction(
    boundary.request('Quick fixes', (params) => {
      session.checkPendingEdits();
      return codeActions(session, params);
    }),
  );
}
