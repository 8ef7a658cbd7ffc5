import type { InitializeParams } from 'vscode-languageserver';
import type { InitializationOptions } from '../../protocol/messages/settings.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import { folderUri } from '../documents/uris.ts';

/** What a client of our own sends beyond the protocol; others send nothing. */
export function initializationOptionsOf({
  initializationOptions,
}: InitializeParams): InitializationOptions | undefined {
  return initializationOptions as InitializationOptions | undefined;
}

/** What a client can do, as far as answers differ by it. */
export function clientFeaturesOf(hello: InitializeParams): ClientFeatures {
  const { workspace, textDocument } = hello.capabilities;
  return {
    annotations: workspace?.workspaceEdit?.changeAnnotationSupport !== undefined,
    snippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    labelDetails: textDocument?.completion?.completionItem?.labelDetailsSupport === true,
    appliesEdits: workspace?.applyEdit === true,
    createsFiles: workspace?.workspaceEdit?.resourceOperations?.includes('create') === true,
    refreshLenses: workspace?.codeLens?.refreshSupport === true,
    refreshHints: workspace?.inlayHint?.refreshSupport === true,
    showsInPanel: initializationOptionsOf(hello)?.showsInPanel === true,
  };
}

/** URIs of the folders that a client has open when it starts. */
export function foldersOf(hello: InitializeParams): string[] {
  // Older clients name one folder only, by a field that is no longer described.
  const { rootUri } = hello as { rootUri?: string | null };
  const named = hello.workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
  return named.map(folderUri);
}
