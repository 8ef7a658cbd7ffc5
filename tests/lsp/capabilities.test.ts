import { cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { ErrorCodes, type InitializeResult } from 'vscode-languageserver-protocol';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { bundleServer, startProcess, type RunningServer } from './server.ts';
import { CodeLensRequest, RenameRequest } from 'vscode-languageserver-protocol';

const samples = join(import.meta.dirname, '../../samples');
const name = 'lanternfall.route.yaml';

let bundle: Awaited<ReturnType<typeof bundleServer>>;
let folder: string;
let uri: string;
let text: string;
let server: RunningServer;

beforeAll(async () => {
  bundle = await bundleServer('main');
});
afterAll(() => bundle.remove());
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lsp-capabilities-'));
  for (const kind of ['route', 'practice', 'runs', 'week'])
    await cp(join(samples, `lanternfall.${kind}.yaml`), join(folder, `lanternfall.${kind}.yaml`));
  uri = `${pathToFileURL(folder).toString()}/${name}`;
  text = await readFile(join(folder, name), 'utf8');
  server = startProcess(bundle.file);
});
afterEach(async () => {
  expect(await server.stop()).toBe(0);
  await rm(folder, { recursive: true, force: true });
});

/** Where `crate-vault` is used for the first time. */
function position() {
  const before = text.slice(0, text.indexOf('- crate-vault') + 4).split('\n');
  return { line: before.length - 1, character: before.at(-1)!.length };
}

/** The requests that come with a capability, as the specification of the protocol, version 3.17, pairs them. S */
function requests(): Record<string, [string, object][]> {
  const textDocument = { uri };
  const at = { textDocument, position: position() };
  const range = { start: { line: 0, character: 0 }, end: { line: 5, character: 0 } };
  const options = { tabSize: 2, insertSpaces: true };
  return {
    hoverProvider: [['textDocument/hover', at]],
    completionProvider: [['textDocument/completion', at]],
    definitionProvider: [['textDocument/definition', at]],
    referencesProvider: [['textDocument/references', { ...at, context: { includeDeclaration: true } }]],
    documentHighlightProvider: [['textDocument/documentHighlight', at]],
    documentSymbolProvider: [['textDocument/documentSymbol', { textDocument }]],
    workspaceSymbolProvider: [['workspace/symbol', { query: 'lamp' }]],
    codeActionProvider: [['textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } }]],
    codeLensProvider: [['textDocument/codeLens', { textDocument }]],
    inlayHintProvider: [['textDocument/inlayHint', { textDocument, range }]],
    documentLinkProvider: [['textDocument/documentLink', { textDocument }]],
    foldingRangeProvider: [['textDocument/foldingRange', { textDocument }]],
    selectionRangeProvider: [['textDocument/selectionRange', { textDocument, positions: [at.position] }]],
    semanticTokensProvider: [
      ['textDocument/semanticTokens/full', { textDocument }],
      ['textDocument/semanticTokens/range', { textDocument, range }],
    ],
    callHierarchyProvider: [['textDocument/prepareCallHierarchy', at]],
    documentFormattingProvider: [['textDocument/formatting', { textDocument, options }]],
    documentRangeFormattingProvider: [['textDocument/rangeFormatting', { textDocument, range, options }]],
    documentOnTypeFormattingProvider: [['textDocument/onTypeFormatting', { ...at, ch: '\n', options }]],
    renameProvider: [
      ['textDocument/prepareRename', at],
      ['textDocument/rename', { ...at, newName: 'box-vault' }],
    ],
  };
}

/** Requests of the same specification that nothing here answers, and that no capability may promise. S */
const undeclared: readonly (readonly [string, string])[] = [
  ['declarationProvider', 'textDocument/declaration'],
  ['typeDefinitionProvider', 'textDocument/typeDefinition'],
  ['implementationProvider', 'textDocument/implementation'],
  ['signatureHelpProvider', 'textDocument/signatureHelp'],
  ['colorProvider', 'textDocument/documentColor'],
  ['linkedEditingRangeProvider', 'textDocument/linkedEditingRange'],
  ['monikerProvider', 'textDocument/moniker'],
  ['typeHierarchyProvider', 'textDocument/prepareTypeHierarchy'],
  ['inlineValueProvider', 'textDocument/inlineValue'],
  ['diagnosticProvider', 'textDocument/diagnostic'],
  ['executeCommandProvider', 'workspace/executeCommand'],
];

const further = [
  'codeLens/resolve',
  'completionItem/resolve',
  'codeAction/resolve',
  'documentLink/resolve',
  'inlayHint/resolve',
  'workspaceSymbol/resolve',
  'textDocument/semanticTokens/full/delta',
];

async function started(): Promise<InitializeResult['capabilities']> {
  const { capabilities } = (await server.client.initialize(
    pathToFileURL(folder).toString(),
  )) as InitializeResult;
  await server.client.open(uri, text);
  return capabilities;
}

describe('capabilities', () => {
  it('are those that have a request here, and each is answered', async () => {
    const capabilities = await started();
    const promised = Object.keys(capabilities).filter((key) => key.endsWith('Provider'));
    const paired = requests();
    expect(promised.sort()).toEqual(Object.keys(paired).sort());
    for (const [method, params] of Object.values(paired).flat()) {
      const answer = await server.client.request(method, params);
      expect(answer, method).not.toBeUndefined();
    }
  });

  it('promise nothing that is not answered', async () => {
    const capabilities = await started();
    for (const [key, method] of undeclared) {
      expect(capabilities).not.toHaveProperty(key);
      await expect(server.client.request(method, { textDocument: { uri } }), method).rejects.toMatchObject({
        code: ErrorCodes.MethodNotFound,
      });
    }
    for (const method of further)
      await expect(server.client.request(method, {}), method).rejects.toMatchObject({
        code: ErrorCodes.MethodNotFound,
      });
  });
});

describe('a rename over the wire', () => {
  it('gives versions where a file is open and none where it is not, and a message where it is refused', async () => {
    await started();
    const at = { textDocument: { uri }, position: position() };
    const edit = await server.client.request(RenameRequest.type, {
      ...at,
      newName: 'box-vault',
    });
    const versions = edit!.documentChanges!.map((change) => 'edits' in change && change.textDocument.version);
    expect(versions).toEqual([1, ...versions.slice(1).map(() => null)]);
    expect(versions.length).toBeGreaterThan(1);
    await expect(
      server.client.request('textDocument/rename', { ...at, newName: 'Box Vault' }),
    ).rejects.toMatchObject({ message: expect.stringContaining('is no id') as unknown });
  });
});

describe('numbers between the lines', () => {
  it('are asked for again once they are worked out, where the client can be told', async () => {
    const { connection } = server.client;
    let tell = (): void => undefined;
    const nextRefresh = (): Promise<void> => new Promise((resolve) => (tell = resolve));
    connection.onRequest('workspace/codeLens/refresh', () => {
      tell();
      return null;
    });
    connection.onRequest('workspace/inlayHint/refresh', () => null);
    const tokensRefreshed = new Promise<void>((resolve) => {
      connection.onRequest('workspace/semanticTokens/refresh', () => {
        resolve();
        return null;
      });
    });
    const root = pathToFileURL(folder).toString();
    await connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: root,
      workspaceFolders: [{ uri: root, name: 'workspace' }],
      capabilities: {
        workspace: {
          codeLens: { refreshSupport: true },
          inlayHint: { refreshSupport: true },
          semanticTokens: { refreshSupport: true },
        },
      },
    });
    await connection.sendNotification('initialized', {});
    await server.client.open(uri, text);
    const lenses = () => server.client.request(CodeLensRequest.type, { textDocument: { uri } });
    const first = await lenses();
    // Numbers that an edit changes are worked out after a pause: until then the last ones are shown.
    const edited = text.replace('saves: 3.2', 'saves: 13.2');
    expect(edited).not.toBe(text);
    let refreshed = nextRefresh();
    await server.client.change(uri, 2, { text: edited });
    expect(await lenses()).toEqual(first);
    // The first numbers may be told of once more before; whoever asks only when told gets the new ones in the end.
    for (let answer = first; isDeepStrictEqual(answer, first); answer = await lenses()) {
      await refreshed;
      refreshed = nextRefresh();
    }
    await tokensRefreshed;
    expect(await lenses()).not.toEqual(first);
    expect((await lenses())?.length).toBeGreaterThan(20);
  });
});
