import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { performance } from 'node:perf_hooks';
import {
  createProtocolConnection,
  ConfigurationRequest,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ExitNotification,
  InitializedNotification,
  InitializeRequest,
  PublishDiagnosticsNotification,
  RegistrationRequest,
  ShutdownRequest,
  type ProtocolConnection,
  type RequestParam,
  type RequestType,
  type PublishDiagnosticsParams,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver-protocol/node';

/** A language server as the benchmark starts it. */
export interface ServerCommand {
  readonly name: string;
  /** Arguments of the Node that runs the benchmark. */
  readonly args: readonly string[];
  /** Language id that route files are opened with. */
  readonly languageId: string;
  /** Answers to `workspace/configuration`, by section. */
  readonly settings: Readonly<Record<string, object>>;
}

/** A condition on published diagnostics: true ends the wait. */
export type Expectation = (published: PublishDiagnosticsParams) => boolean;

/** The time limit of a wait, longer than every measurement here should take; then the wait ends in an error. */
const patienceMs = 60_000;

/** A server's answer, and the milliseconds from the request to it. */
export interface Answer<R> {
  readonly ms: number;
  readonly result: R;
}

/** One running server with one open document. This code is the same for every server. */
export class Client {
  /** Milliseconds from starting the process to its answer to `initialize`. */
  readonly startMs: number;
  readonly pid: number;
  /** Called with all diagnostics that the server publishes. */
  onDiagnostics: ((published: PublishDiagnosticsParams) => void) | undefined;
  private readonly process: ChildProcess;
  private readonly connection: ProtocolConnection;
  private readonly server: ServerCommand;
  private waiting: { readonly expected: Expectation; readonly done: (at: number) => void } | undefined;
  private sent = 0;

  private constructor(
    server: ServerCommand,
    child: ChildProcess,
    pid: number,
    connection: ProtocolConnection,
    startMs: number,
  ) {
    this.server = server;
    this.process = child;
    this.pid = pid;
    this.connection = connection;
    this.startMs = startMs;
    connection.onNotification(PublishDiagnosticsNotification.type, (published) => {
      const at = performance.now();
      this.onDiagnostics?.(published);
      if (this.waiting?.expected(published)) this.waiting.done(at);
    });
  }

  /**
   * Starts a server on a folder and waits until it has answered `initialize`.
   *
   * @param folder URI of the one workspace folder
   * @throws where the process cannot be started or ends before it answers
   */
  static async start(server: ServerCommand, folder: string): Promise<Client> {
    const from = performance.now();
    const child = spawn(process.execPath, server.args, { stdio: ['pipe', 'pipe', 'inherit'] });
    const ended = once(child, 'exit').then(() => {
      throw new Error(`${server.name} ended before it answered.`);
    });
    const { pid } = child;
    if (pid === undefined) throw new Error(`${server.name} could not be started.`);
    const connection = createProtocolConnection(child.stdout, child.stdin);
    connection.onRequest(ConfigurationRequest.type, ({ items }) =>
      items.map(({ section }) => server.settings[section ?? ''] ?? null),
    );
    connection.onRequest(RegistrationRequest.type, () => undefined);
    connection.listen();
    const answer = connection.sendRequest(InitializeRequest.type, {
      processId: process.pid,
      rootUri: folder,
      workspaceFolders: [{ uri: folder, name: 'bench' }],
      capabilities: {
        workspace: { configuration: true, workspaceFolders: true },
        textDocument: {
          synchronization: { dynamicRegistration: false },
          publishDiagnostics: { versionSupport: true, relatedInformation: true },
          completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown'] } },
          hover: { contentFormat: ['markdown'] },
        },
      },
    });
    try {
      await Promise.race([answer, ended]);
    } catch (error) {
      child.kill('SIGKILL');
      throw error;
    }
    const startMs = performance.now() - from;
    ended.catch(() => undefined);
    await connection.sendNotification(InitializedNotification.type, {});
    return new Client(server, child, pid, connection, startMs);
  }

  /** Version of the text sent last. */
  get version(): number {
    return this.sent;
  }

  /** Opens a document; returns the milliseconds until the expected diagnostics arrive. */
  async open(uri: string, text: string, expected: Expectation): Promise<number> {
    const { languageId } = this.server;
    return this.measure(uri, expected, () =>
      this.connection.sendNotification(DidOpenTextDocumentNotification.type, {
        textDocument: { uri, languageId, version: ++this.sent, text },
      }),
    );
  }

  /** Sends one incremental change; returns the milliseconds until the expected diagnostics arrive. */
  async change(uri: string, change: TextDocumentContentChangeEvent, expected: Expectation): Promise<number> {
    return this.measure(uri, expected, () => this.send(uri, change));
  }

  /**
   * Sends changes without a pause; returns the milliseconds from the last one until the expected diagnostics arrive.
   */
  async burst(
    uri: string,
    changes: readonly TextDocumentContentChangeEvent[],
    expected: Expectation,
  ): Promise<number> {
    const before = changes.slice(0, -1).map((change) => this.send(uri, change));
    const last = changes.slice(-1);
    const ms = await this.measure(uri, expected, () =>
      Promise.all(last.map((change) => this.send(uri, change))),
    );
    await Promise.all(before);
    return ms;
  }

  /** Sends one incremental change and does not wait for diagnostics. */
  async send(uri: string, change: TextDocumentContentChangeEvent): Promise<void> {
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri, version: ++this.sent },
      contentChanges: [change],
    });
  }

  /** Sends a request and measures the time to its answer. */
  async ask<P, R>(type: RequestType<P, R, void>, params: RequestParam<P>): Promise<Answer<R>> {
    const from = performance.now();
    const result = await this.connection.sendRequest(type, params);
    return { ms: performance.now() - from, result };
  }

  /** Ends the server, by a signal where it does not end when asked. */
  async stop(): Promise<void> {
    const gone = once(this.process, 'exit');
    const force = setTimeout(() => this.process.kill('SIGKILL'), 2_000);
    await this.connection.sendRequest(ShutdownRequest.type).catch(() => undefined);
    await this.connection.sendNotification(ExitNotification.type).catch(() => undefined);
    await gone;
    clearTimeout(force);
    this.connection.dispose();
  }

  private async measure(uri: string, expected: Expectation, send: () => Promise<unknown>): Promise<number> {
    const answered = new Promise<number>((resolve, reject) => {
      const give = setTimeout(() => {
        reject(
          new Error(`${this.server.name} did not publish what was expected within ${patienceMs / 1000} s.`),
        );
      }, patienceMs);
      this.waiting = {
        // Where a server gives versions, it must be this one: diagnostics of an older text do not count.
        expected: (published) =>
          published.uri === uri &&
          (published.version === undefined || published.version === this.sent) &&
          expected(published),
        done: (at) => {
          clearTimeout(give);
          this.waiting = undefined;
          resolve(at);
        },
      };
    });
    const from = performance.now();
    await send();
    return (await answered) - from;
  }
}
