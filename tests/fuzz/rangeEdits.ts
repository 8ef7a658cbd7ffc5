import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { CancellationTokenSource, ErrorCodes, ResponseError } from 'vscode-jsonrpc/node';
import { fileKinds, type FileKind } from '../../server/src/files/fileKind.ts';
import { chance, seedOf, type Chance } from '../arena/random.ts';
import { cpuTimeOf } from '../helpers/cpuTime.ts';
import { bundleServer, startProcess, type RunningServer } from '../lsp/server.ts';
import type { Failure } from './fuzz.ts';
import { mutated } from './mutate.ts';
import { small } from './seeds.ts';
import { singleEdit } from '../../server/src/files/edit/textEdit.ts';
import { LineIndex } from '../../server/src/text/lineIndex.ts';

export interface EditsResult {
  edits: number;
  /** Requests that were cancelled, some before the server began with them. */
  cancelled: number;
  comparisons: number;
  readonly failures: Failure[];
}

export interface EditsOptions {
  readonly seed: number;
  readonly edits: number;
  /** How many edits lie between two comparisons. */
  readonly each?: number;
  /** Share of the edits that the edited server is not told: a fault that a comparison must find. */
  readonly lost?: number;
}

/** What depends on the texts alone: a fresh server answers the same. */
const compared = ['documentSymbol', 'foldingRange', 'documentLink', 'semanticTokens/full', 'formatting'];
/** What is asked and cancelled between the edits. */
const cancelledRequests = [
  ...['hover', 'completion', 'references', 'codeLens', 'inlayHint', 'documentSymbol', 'codeAction'].map(
    (name) => `textDocument/${name}`,
  ),
  'routewright/rank',
  'routewright/panel',
];

/**
 * Edits files in a running server by ranges, asks and cancels in between, and compares what it says then with a server
 * that is started afresh with the same texts.
 */
export async function fuzzEdits({ seed, edits, each = 25, lost = 0 }: EditsOptions): Promise<EditsResult> {
  const result: EditsResult = { edits: 0, cancelled: 0, comparisons: 0, failures: [] };
  const built = await bundleServer('main');
  const folder = await mkdtemp(join(tmpdir(), 'fuzz-edits-'));
  try {
    for (let round = 0; result.edits < edits && result.failures.length < 10; round++) {
      const place = join(folder, String(round));
      await mkdir(place);
      for (const kind of fileKinds) await writeFile(join(place, `a.${kind}.yaml`), small[kind]);
      await conversation(built.file, place, chance(seedOf(seed, round)), { edits, each, lost }, result);
    }
    return result;
  } finally {
    await built.remove();
    await rm(folder, { recursive: true, force: true });
  }
}

interface OpenText {
  readonly kind: FileKind;
  readonly uri: string;
  text: string;
  version: number;
}

/** One server through some comparisons. */
async function conversation(
  program: string,
  folder: string,
  draw: Chance,
  { edits, each, lost }: Required<Omit<EditsOptions, 'seed'>>,
  result: EditsResult,
): Promise<void> {
  const texts = fileKinds.map((kind): OpenText => {
    const uri = pathToFileURL(join(folder, `a.${kind}.yaml`)).href;
    return { kind, uri, text: small[kind], version: 1 };
  });
  const server = await opened(program, folder, texts);
  const fail = (what: string, { kind, text }: OpenText, error: string): void => {
    result.failures.push({ kind: 'crash', index: result.edits, what, error, input: { kind, text } });
  };
  for (let comparison = 0; comparison < 4 && result.edits < edits; comparison++) {
    for (let left = each; left > 0; left--) {
      const file = texts[draw.whole(0, texts.length - 1)]!;
      result.edits++;
      await change(server, file, draw, draw.next() < lost);
      if (draw.next() < 0.5) askAndCancel(server, file, draw, result, fail);
    }
    const fresh = await opened(program, folder, texts);
    const [here, there] = await bothSaid(server, fresh, texts);
    result.comparisons++;
    texts.forEach((file, at) => {
      if (here[at] !== there[at]) fail('edited and fresh', file, `${here[at]}\n${there[at]}`);
    });
    await fresh.stop();
    if (result.failures.length > 0) break;
  }
  await server.stop();
}

async function opened(program: string, folder: string, texts: readonly OpenText[]): Promise<RunningServer> {
  const server = startProcess(program);
  await server.client.initialize(pathToFileURL(folder).href, { today: '2026-10-12' });
  for (const { uri, text, version } of texts) await server.client.open(uri, text, version);
  return server;
}

/** Changes a file by one range, or by two ranges in one message: the second counts in the text after the first. */
async function change(server: RunningServer, file: OpenText, draw: Chance, isLost: boolean): Promise<void> {
  const changes: object[] = [];
  for (let count = draw.next() < 0.3 ? 2 : 1; count > 0; count--) {
    const next = mutated(draw.next() < 0.1 ? small[file.kind] : file.text, draw, small.route).slice(0, 4000);
    const { start, end, text } = singleEdit(file.text, next);
    // Lines end here as the protocol says; a byte-order mark is a character of the first line.
    const lines = new LineIndex(` ${file.text}`);
    const at = (offset: number) => {
      const { line, character } = lines.positionAt(offset + 1);
      return { line, character: line === 0 ? character - 1 : character };
    };
    changes.push({ range: { start: at(start), end: at(end) }, text });
    file.text = next;
  }
  file.version++;
  if (!isLost) await server.client.change(file.uri, file.version, ...changes);
}

/** Asks about a place and takes the question back: at once, or when the server may have begun with it. */
function askAndCancel(
  { client }: RunningServer,
  file: OpenText,
  draw: Chance,
  result: EditsResult,
  fail: (what: string, file: OpenText, error: string) => void,
): void {
  const method = cancelledRequests[draw.whole(0, cancelledRequests.length - 1)]!;
  const position = { line: draw.whole(0, 20), character: draw.whole(0, 30) };
  const params = {
    textDocument: { uri: file.uri },
    position,
    range: { start: position, end: position },
    context: { includeDeclaration: true, diagnostics: [] },
    uri: file.uri,
    view: 'ranking',
    technique: null,
  };
  const cancellation = new CancellationTokenSource();
  result.cancelled++;
  client.connection.sendRequest(method, params, cancellation.token).catch((error: unknown) => {
    if (error instanceof ResponseError && error.code === ErrorCodes.InternalError)
      fail(method, file, error.message);
  });
  if (draw.next() < 0.5) cancellation.cancel();
  else setTimeout(() => cancellation.cancel(), draw.whole(0, 30));
}

/** What both servers say of each file, once they say the same or have nothing more to do. */
async function bothSaid(
  edited: RunningServer,
  fresh: RunningServer,
  texts: readonly OpenText[],
): Promise<[string[], string[]]> {
  const servers = [edited, fresh];
  for (let quiet = 0, used = NaN; ;) {
    const [here, there] = (await Promise.all(servers.map((server) => said(server, texts)))) as [
      string[],
      string[],
    ];
    if (quiet >= 5 || JSON.stringify(here) === JSON.stringify(there)) return [here, there];
    await wait(400);
    // Asking takes some time itself: a server that works uses all of it.
    const now = servers.reduce((sum, { pid }) => sum + cpuTimeOf(pid), 0);
    quiet = now - used < 200 ? quiet + 1 : 0;
    used = now;
  }
}

function said({ client }: RunningServer, texts: readonly OpenText[]): Promise<string[]> {
  return Promise.all(
    texts.map(async ({ uri }) => {
      const params = { textDocument: { uri }, options: { tabSize: 2, insertSpaces: true } };
      const answers: unknown[] = [];
      for (const name of compared)
        answers.push(withoutNumber(await client.request(`textDocument/${name}`, params)));
      const diagnostics = client.published.get(uri)?.diagnostics ?? [];
      return JSON.stringify([answers, diagnostics]);
    }),
  );
}

/** Colours have a number that says which answer of this server they are. */
function withoutNumber(answer: unknown): unknown {
  return typeof answer === 'object' && answer !== null && 'data' in answer ? answer.data : answer;
}
