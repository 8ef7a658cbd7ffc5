import type { InitializeParams } from 'vscode-languageserver';
import type { InitializationOptions } from '../../protocol/messages/settings.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import { folderUri } from '../documents/uris.ts';

/** What our own client sends in addition to the protocol; other clients send nothing. */
export function initializationOptionsOf({
  initializationOptions,
}: InitializeParams): InitializationOptions | undefined {
  return initializationOptions as InitializationOptions | undefined;
}

/** The features that a client announced, as far as the server's answers depend on them. */
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
    refreshTokens: workspace?.semanticTokens?.refreshSupport === true,
    showsInPanel: initializationOptionsOf(hello)?.showsInPanel === true,
  };
}

/** URIs of the folders that a client has open when it starts. */
export function foldersOf(hello: InitializeParams): string[] {
  // Older clients name one folder only, in a field that the protocol's types no longer have.
  const { rootUri } = hello as { rootUri?: string | null };
  const named = hello.workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
  return named.map(folderUri);
}
