import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  createMessageConnection,
  ErrorCodes,
  ResponseError,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node';
import { fileKinds, type FileKind } from '../../server/src/files/fileKind.ts';
import { chance, seedOf, type Chance } from '../arena/random.ts';
import { cpuTimeOf } from '../helpers/cpuTime.ts';
import { bundleServer } from '../lsp/server.ts';
import type { Failure } from './fuzz.ts';
import { mutated } from './mutate.ts';
import { small } from './seeds.ts';

export interface ServerResult {
  messages: number;
  answers: number;
  readonly failures: Failure[];
}

export interface ServerOptions {
  readonly seed: number;
  readonly messages: number;
  /** Milliseconds of the server's processor time from one answer to the next; left out: 2,000. */
  readonly limit?: number;
  /** Path of the server's bundle; built anew where left out. */
  readonly program?: string;
}

const pick = <T>({ whole }: Chance, list: readonly T[]): T => list[whole(0, list.length - 1)]!;

/** Requests in the form that the protocol wants, about a file and a place in it or near it. */
const requests: readonly string[] = [
  ...['hover', 'completion', 'definition', 'references', 'documentHighlight', 'prepareRename', 'rename'],
  ...['codeLens', 'inlayHint', 'documentSymbol', 'foldingRange', 'selectionRange', 'documentLink'],
  ...['semanticTokens/full', 'semanticTokens/range', 'prepareCallHierarchy', 'formatting', 'rangeFormatting'],
  ...['onTypeFormatting', 'codeAction'],
].map((name) => `textDocument/${name}`);

const ownRequests = ['rank', 'status', 'panel', 'odds', 'review', 'setState', 'practiceOffer'].map(
  (name) => `routewright/${name}`,
);

function paramsFor(method: string, uri: string, draw: Chance): Record<string, unknown> {
  const position = { line: draw.whole(0, 30), character: draw.whole(0, 60) };
  const end = { line: position.line + draw.whole(0, 5), character: 70 };
  const range = { start: position, end };
  return {
    textDocument: { uri },
    position,
    range,
    positions: [position],
    newName: pick(draw, ['brand-new', 'lamp-hop', '', 'a b', '__proto__', '🏮']),
    ch: '\n',
    options: { tabSize: 2, insertSpaces: true },
    context: { includeDeclaration: true, diagnostics: [], triggerKind: 1 },
    uri,
    view: pick(draw, ['week', 'ranking', 'curve', 'run']),
    technique: pick(draw, ['lamp-hop', 'nobody', ...(method === 'routewright/panel' ? [null] : [])]),
    objective: pick(draw, ['time', 'target']),
    state: pick(draw, ['learning', 'in-run']),
    wait: draw.next() < 0.5,
    plan: draw.next() < 0.2,
  };
}

/** Params that fit nothing. */
const garbage = (draw: Chance): object =>
  pick<object>(draw, [
    {},
    [],
    [1, 'two', null],
    { textDocument: null },
    { textDocument: { uri: 7 }, position: 'here' },
    { textDocument: { uri: '%%%' }, position: { line: -1, character: 1e20 } },
    { uri: { a: [] }, technique: [], view: 'x' },
    { contentChanges: 'all of it' },
    JSON.parse('{"__proto__":{"polluted":1}}') as object,
  ]);

/** Sends messages in any order, some of which make no sense, and demands an answer to every request. */
export async function fuzzServer(options: ServerOptions): Promise<ServerResult> {
  const result: ServerResult = { messages: 0, answers: 0, failures: [] };
  const folder = await mkdtemp(join(tmpdir(), 'fuzz-server-'));
  const built = options.program === undefined ? await bundleServer('main') : undefined;
  try {
    const program = options.program ?? built!.file;
    let round = 0;
    while (result.messages < options.messages && result.failures.length < 10)
      await conversation(
        program,
        join(folder, String(round)),
        seedOf(options.seed, round++),
        options,
        result,
      );
    return result;
  } finally {
    await built?.remove();
    await rm(folder, { recursive: true, force: true });
  }
}

/** One server from its start to its end. */
async function conversation(
  program: string,
  folder: string,
  seed: number,
  { limit = 2000, messages }: ServerOptions,
  result: ServerResult,
): Promise<void> {
  const draw = chance(seed);
  await mkdir(folder, { recursive: true });
  const texts = new Map<string, { kind: FileKind; text: string; version: number; open: boolean }>();
  for (const kind of fileKinds) {
    await writeFile(join(folder, `a.${kind}.yaml`), small[kind]);
    const uri = pathToFileURL(join(folder, `a.${kind}.yaml`)).href;
    texts.set(uri, { kind, text: small[kind], version: 0, open: false });
  }
  const env = { ...process.env, ROUTEWRIGHT_STATE_HOME: join(folder, 'state') };
  const child = spawn(process.execPath, [program, '--stdio'], { stdio: ['pipe', 'pipe', 'pipe'], env });
  let stderr = '';
  child.stderr.on('data', (chunk: Buffer) => (stderr = (stderr + chunk.toString()).slice(-4000)));
  // What is written to a server that ended goes nowhere; that it ended is noticed below.
  child.stdin.on('error', () => undefined);
  const ended = new Promise<'ended'>((resolve) => child.on('exit', () => resolve('ended')));
  const connection = createMessageConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  connection.onError(() => undefined);
  connection.onRequest(() => null);
  connection.listen();

  const sent: string[] = [];
  const pending = new Set<Promise<void>>();
  const fail = (kind: Failure['kind'], what: string, error: string): void => {
    const input = { kind: 'route' as const, text: sent.slice(-30).join('\n') };
    result.failures.push({ kind, index: result.messages, what, error, input });
  };
  const note = (method: string, params: object): void => {
    result.messages++;
    sent.push(JSON.stringify({ method, params }));
  };
  const notify = (method: string, params: object): Promise<void> => {
    note(method, params);
    return connection.sendNotification(method, params).catch(() => undefined);
  };
  /** Asks; an error of the server's own making is a failure where the question made sense. */
  const ask = (method: string, params: object, sensible: boolean): void => {
    note(method, params);
    const asked = connection
      .sendRequest(method, params)
      .then(
        () => void result.answers++,
        (error: unknown) => {
          if (!(error instanceof ResponseError)) return;
          result.answers++;
          if (sensible && error.code === ErrorCodes.InternalError) fail('crash', method, error.message);
        },
      )
      .finally(() => pending.delete(asked));
    pending.add(asked);
  };
  /** Waits for all answers; false where the server ended or hangs. */
  const settle = async (): Promise<boolean> => {
    let answers = -1;
    let since = 0;
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<'late'>((resolve) => {
      timer = setInterval(() => {
        const used = cpuTimeOf(child.pid!);
        if (answers !== result.answers) [answers, since] = [result.answers, used];
        else if (used - since > limit) resolve('late');
      }, 50);
    });
    const outcome = await Promise.race([Promise.all(pending), ended, late]);
    clearInterval(timer);
    if (outcome === 'ended') fail('crash', 'the server', `The server ended.\n${stderr}`);
    if (outcome === 'late')
      fail('hang', 'the server', `No answer within ${limit / 1000} s of processor time.`);
    return outcome !== 'ended' && outcome !== 'late';
  };

  try {
    ask('initialize', initialization(folder), true);
    if (!(await settle())) return;
    await notify('initialized', {});
    for (let left = Math.min(400, messages); left > 0; left--) {
      await act(draw, texts, notify, ask);
      if (left % 20 === 0 && !(await settle())) return;
    }
    if (!(await settle())) return;
    ask('shutdown', {}, true);
    await settle();
  } finally {
    connection.dispose();
    child.kill('SIGKILL');
    await ended;
  }
}

const initialization = (folder: string): object => ({
  processId: null,
  workspaceFolders: [{ uri: pathToFileURL(folder).href, name: 'a' }],
  capabilities: { workspace: { applyEdit: true, workspaceEdit: { resourceOperations: ['create'] } } },
  initializationOptions: { today: '2026-10-12' },
});

/** Sends one message. */
async function act(
  draw: Chance,
  texts: Map<string, { kind: FileKind; text: string; version: number; open: boolean }>,
  notify: (method: string, params: object) => Promise<void>,
  ask: (method: string, params: object, sensible: boolean) => void,
): Promise<void> {
  const uri = pick(draw, [...texts.keys()]);
  const file = texts.get(uri)!;
  const kind = draw.next();
  if (kind < 0.05) {
    const method = pick(draw, [
      ...requests,
      ...ownRequests,
      'routewright/nothing',
      'workspace/executeCommand',
    ]);
    return ask(method, garbage(draw), false);
  }
  if (kind < 0.08) {
    const methods = ['didOpen', 'didChange', 'didClose', 'didSave'].map((name) => `textDocument/${name}`);
    return notify(
      pick(draw, [...methods, 'workspace/didChangeWatchedFiles', '$/cancelRequest']),
      garbage(draw),
    );
  }
  if (kind < 0.4) {
    file.version++;
    file.text = mutated(draw.next() < 0.3 ? small[file.kind] : file.text, draw, small.route).slice(0, 4000);
    const { text, version } = file;
    if (!file.open) {
      file.open = true;
      return notify('textDocument/didOpen', {
        textDocument: { uri, languageId: 'routewright', version, text },
      });
    }
    return notify('textDocument/didChange', { textDocument: { uri, version }, contentChanges: [{ text }] });
  }
  if (kind < 0.43 && file.open) {
    file.open = false;
    return notify('textDocument/didClose', { textDocument: { uri } });
  }
  if (kind < 0.46)
    return notify('workspace/didChangeWatchedFiles', { changes: [{ uri, type: draw.whole(1, 3) }] });
  if (kind < 0.48) return notify('$/cancelRequest', { id: draw.whole(0, 400) });
  const method = pick(draw, kind < 0.9 ? requests : ownRequests);
  if (kind > 0.97) return ask('workspace/symbol', { query: pick(draw, ['', 'lamp', '[', '\\']) }, true);
  return ask(method, paramsFor(method, uri, draw), true);
}
