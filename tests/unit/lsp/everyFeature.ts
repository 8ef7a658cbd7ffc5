import { neverStopped } from './editor.ts';
import { runToCompletion } from '../../../server/src/incremental/steps.ts';
import {
  ResponseError,
  type CodeAction,
  type Position,
  type Range,
  type TextDocumentEdit,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import {
  incomingCallsProvider,
  prepareCallHierarchyProvider,
  outgoingCallsProvider,
} from '../../../server/src/lsp/editing/callHierarchy.ts';
import { codeActionProvider } from '../../../server/src/lsp/actions/codeActions.ts';
import { codeLensProvider } from '../../../server/src/lsp/editing/codeLens.ts';
import { completionProvider } from '../../../server/src/lsp/editing/completion.ts';
import { definitionProvider } from '../../../server/src/lsp/editing/definition.ts';
import { documentLinkProvider } from '../../../server/src/lsp/editing/documentLinks.ts';
import { foldingRangeProvider } from '../../../server/src/lsp/editing/folding.ts';
import {
  formattingProvider,
  onTypeFormattingProvider,
  rangeFormattingProvider,
} from '../../../server/src/lsp/editing/formatting.ts';
import { hoverProvider } from '../../../server/src/lsp/editing/hover.ts';
import { inlayHintProvider } from '../../../server/src/lsp/editing/inlayHints.ts';
import { documentHighlightProvider, referencesProvider } from '../../../server/src/lsp/editing/references.ts';
import { prepareRenameProvider, renameProvider } from '../../../server/src/lsp/editing/rename.ts';
import { selectionRangeProvider } from '../../../server/src/lsp/editing/selectionRanges.ts';
import { semanticTokensProvider } from '../../../server/src/lsp/editing/semanticTokens.ts';
import type { Services } from '../../../server/src/lsp/server/services.ts';
import { documentSymbolProvider } from '../../../server/src/lsp/editing/documentSymbols.ts';
import { workspaceSymbolProvider } from '../../../server/src/lsp/editing/workspaceSymbols.ts';

/** What the features answer that is to be looked at: every range by file, and every set of edits. */
export interface Answers {
  readonly ranges: { readonly uri: string; readonly range: Range }[];
  readonly edits: { readonly from: string; readonly edit: WorkspaceEdit }[];
}

const options = { tabSize: 2, insertSpaces: true };

/** Asks every feature that answers for a whole file. */
export function askOfFile(services: Services, uri: string): Answers {
  const textDocument = { uri };
  const range = { start: { line: 0, character: 0 }, end: { line: 100_000, character: 0 } };
  semanticTokensProvider(services)({ textDocument });
  semanticTokensProvider(services)({ textDocument, range });
  const ranges = [
    ...documentSymbolProvider(services)({ textDocument }).map((symbol) => symbol.range),
    ...documentLinkProvider(services)({ textDocument }).map((link) => link.range),
    ...codeLensProvider(services)({ textDocument }).map((lens) => lens.range),
    ...inlayHintProvider(services)({ textDocument, range }).map(({ position }) => ({
      start: position,
      end: position,
    })),
    ...foldingRangeProvider(services)({ textDocument }).map(({ startLine, endLine }) => ({
      start: { line: startLine, character: 0 },
      end: { line: endLine, character: 0 },
    })),
  ];
  const symbols = workspaceSymbolProvider(services)({ query: '' });
  return {
    ranges: [...ranges.map((one) => ({ uri, range: one })), ...symbols.map(({ location }) => location)],
    edits: [
      { from: 'formatting', edit: editOf(uri, formattingProvider(services)({ textDocument, options })) },
    ],
  };
}

/** Asks every feature that answers for a place. */
export async function askAt(services: Services, uri: string, position: Position): Promise<Answers> {
  const textDocument = { uri };
  const at = { textDocument, position };
  const range = { start: position, end: position };
  const lines = {
    start: { line: position.line, character: 0 },
    end: { line: position.line + 3, character: 0 },
  };
  const ranges: { uri: string; range: Range }[] = [];
  const own = (found: readonly (Range | undefined)[]) =>
    ranges.push(...found.flatMap((one) => (one ? [{ uri, range: one }] : [])));

  own([runToCompletion(hoverProvider(services)(at))?.range]);
  own(documentHighlightProvider(services)(at).map((one) => one.range));
  own(selectionRangeProvider(services)({ textDocument, positions: [position] }).map((one) => one.range));
  ranges.push(...referencesProvider(services)({ ...at, context: { includeDeclaration: true } }));
  const defined = definitionProvider(services)(at);
  if (defined) ranges.push(defined);
  for (const item of prepareCallHierarchyProvider(services)(at) ?? []) {
    ranges.push(item);
    for (const { from } of incomingCallsProvider(services)({ item }) ?? []) ranges.push(from);
    for (const { to } of outgoingCallsProvider(services)({ item }) ?? []) ranges.push(to);
  }
  const prepared = prepareRenameProvider(services)(at);
  if (prepared && !(prepared instanceof ResponseError)) own([prepared.range]);

  const edits: { from: string; edit: WorkspaceEdit }[] = [];
  for (const item of completionProvider(services)(at))
    edits.push({ from: `completion ${item.label}`, edit: editOf(uri, [item.textEdit as TextEdit]) });
  const renamed = await renameProvider(services)({ ...at, newName: 'brand-new' });
  if (renamed && !(renamed instanceof ResponseError)) edits.push({ from: 'rename', edit: renamed });
  for (const only of [undefined, ['source.fixAll']]) {
    const context = { diagnostics: [], ...(only && { only }) };
    const actions: CodeAction[] = await codeActionProvider(services)(
      { textDocument, range, context },
      neverStopped,
    );
    edits.push(...actions.map(({ title, edit }) => ({ from: title, edit: edit! })));
  }
  const formatted = [
    rangeFormattingProvider(services)({ textDocument, range: lines, options }),
    onTypeFormattingProvider(services)({ ...at, ch: '\n', options }),
  ];
  edits.push(...formatted.map((one) => ({ from: 'formatting of lines', edit: editOf(uri, one) })));
  return { ranges, edits };
}

function editOf(uri: string, edits: TextEdit[]): WorkspaceEdit {
  return { documentChanges: [{ textDocument: { uri, version: null }, edits }] };
}

/** The texts that an edit leads to, by URI; it throws where edits overlap. New files come from nothing. */
export function outcome(
  { documentChanges = [] }: WorkspaceEdit,
  textOf: (uri: string) => string | undefined,
) {
  const changes = documentChanges.filter((change): change is TextDocumentEdit => 'edits' in change);
  return new Map(
    changes.map(({ textDocument: { uri }, edits }) => {
      const document = TextDocument.create(uri, 'routewright', 1, textOf(uri) ?? '');
      for (const { range } of edits as TextEdit[])
        if (!fits(document, range)) throw new Error(`${JSON.stringify(range)} is no place of ${uri}`);
      return [uri, TextDocument.applyEdits(document, edits as TextEdit[])];
    }),
  );
}

/** Whether a range lies in a text and does not end before it starts. */
export function fits(document: TextDocument, { start, end }: Range): boolean {
  const exact = (position: Position) => {
    const back = document.positionAt(document.offsetAt(position));
    return back.line === position.line && back.character === position.character;
  };
  return exact(start) && exact(end) && document.offsetAt(start) <= document.offsetAt(end);
}
