import { execFile, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import {
  createMessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type MessageConnection,
  type RequestType,
} from 'vscode-jsonrpc/node';
import type { Diagnostic, PublishDiagnosticsParams } from 'vscode-languageserver-protocol';

/** A client that speaks bare JSON-RPC and remembers what was published. */
export class LspClient {
  readonly connection: MessageConnection;
  /** What was published last, by file. */
  readonly published = new Map<string, PublishDiagnosticsParams>();
  /** Everything published, in order. */
  readonly history: PublishDiagnosticsParams[] = [];
  private waiting: (() => void)[] = [];

  constructor(connection: MessageConnection) {
    this.connection = connection;
    connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
      this.published.set(params.uri, params);
      this.history.push(params);
      const { waiting } = this;
      this.waiting = [];
      for (const wake of waiting) wake();
    });
    connection.onRequest('client/registerCapability', () => null);
    connection.listen();
  }

  async initialize(folder: string | null, initializationOptions: object = {}): Promise<unknown> {
    const result = await this.connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: folder,
      workspaceFolders: folder === null ? null : [{ uri: folder, name: 'workspace' }],
      capabilities: {
        workspace: { workspaceFolders: true, didChangeWatchedFiles: { dynamicRegistration: true } },
        textDocument: { publishDiagnostics: { relatedInformation: true, versionSupport: true } },
      },
      initializationOptions,
    });
    await this.connection.sendNotification('initialized', {});
    return result;
  }

  open(uri: string, text: string, version = 1): Promise<void> {
    const textDocument = { uri, languageId: 'routewright', version, text };
    return this.connection.sendNotification('textDocument/didOpen', { textDocument });
  }

  change(uri: string, version: number, ...contentChanges: object[]): Promise<void> {
    const textDocument = { uri, version };
    return this.connection.sendNotification('textDocument/didChange', { textDocument, contentChanges });
  }

  request<P, R, E>(type: RequestType<P, R, E>, params: NoInfer<P>): Promise<R>;
  /** What no type fits: an unknown method, or params that are not in order. */
  request(method: string, params: object): Promise<unknown>;
  request(type: string | RequestType<unknown, unknown, unknown>, params: unknown): Promise<unknown> {
    return typeof type === 'string'
      ? this.connection.sendRequest(type, params)
      : this.connection.sendRequest(type, params);
  }

  /** Waits until what was published last for a file satisfies `wanted`. The test's own time limit ends the wait. */
  async diagnostics(
    uri: string,
    wanted: (diagnostics: readonly Diagnostic[], version: number | undefined) => boolean,
  ): Promise<readonly Diagnostic[]> {
    for (;;) {
      const last = this.published.get(uri);
      if (last && wanted(last.diagnostics, last.version)) return last.diagnostics;
      await new Promise<void>((resolve) => this.waiting.push(resolve));
    }
  }
}

export interface RunningServer {
  readonly client: LspClient;
  readonly pid: number;
  /** Ends the conversation as the protocol wants it; gives the process's exit code. */
  stop(): Promise<number | null>;
}

/** Bundles the server as the extension ships it, into a folder that the caller removes. */
export async function bundleServer(
  entry: 'main' | 'browser',
): Promise<{ file: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'lsp-server-'));
  const root = join(import.meta.dirname, '../..');
  await promisify(execFile)(process.execPath, ['build.mjs', '--server', '--into', folder], { cwd: root });
  const file = join(folder, 'dist', entry === 'main' ? 'server.cjs' : 'server.browser.js');
  return { file, remove: () => rm(folder, { recursive: true, force: true }) };
}

/** How a process is started: arguments of Node before the server, and variables beside those of the test. */
interface ProcessStart {
  readonly args?: readonly string[];
  readonly env?: NodeJS.ProcessEnv;
}

/** Starts a bundled server as a process and speaks to it over its standard input and output. */
export function startProcess(file: string, { args = [], env }: ProcessStart = {}): RunningServer {
  const child = spawn(process.execPath, [...args, file, '--stdio'], {
    stdio: ['pipe', 'pipe', 'inherit'],
    env: { ...process.env, ...env },
  });
  const exited = new Promise<number | null>((resolve) => child.on('exit', resolve));
  const client = new LspClient(
    createMessageConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin)),
  );
  return {
    client,
    pid: child.pid!,
    async stop() {
      await client.connection.sendRequest('shutdown');
      await client.connection.sendNotification('exit');
      return exited;
    },
  };
}

/** What a web worker's scope has and a Node thread's has not, and the bundle's text run as a script. */
export const browserShim = `
const { parentPort, workerData } = require('node:worker_threads');
globalThis.self = globalThis;
globalThis.addEventListener = () => undefined;
globalThis.postMessage = (data) => parentPort.postMessage(data);
parentPort.on('message', (data) => globalThis.onmessage({ data }));
new (require('node:vm').Script)(workerData).runInThisContext();
`;
