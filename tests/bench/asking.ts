import {
  CodeLensRequest,
  CompletionRequest,
  HoverRequest,
  type Position,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver-protocol/node';
import { createRandom, type Random } from '../../samples/simulation/random.ts';
import { Client, type ServerCommand } from './client.ts';
import { mistakesIn, openAndCorrect } from './edits.ts';
import { folderWith, removeFolder } from './folder.ts';
import { makePractice, makeRuns } from './logs.ts';
import { waitUntilIdle } from './memory.ts';
import { makeRoute } from './route.ts';
import { general, own } from './servers.ts';
import { row, type Row } from './table.ts';

/** The kinds of request that are measured. */
export const requestKinds = [
  'completion at a use',
  'completion at a key',
  'hover on an id',
  'hover on a key',
] as const;
export type RequestKind = (typeof requestKinds)[number];

/** A keystroke, the one that reverses it, and the place of the request between the two. */
export interface TimedRequest {
  readonly edit: TextDocumentContentChangeEvent;
  readonly back: TextDocumentContentChangeEvent;
  readonly at: Position;
}

const blocks = 2_000;
const evenings = 60;
const warmUp = 1;

/** A keystroke that inserts a text, and the one that removes it; the cursor is after the text. */
function typed(line: number, character: number, text: string): TimedRequest {
  const start = { line, character };
  const rows = text.split('\n');
  const end = {
    line: line + rows.length - 1,
    character: (rows.length > 1 ? 0 : character) + rows.at(-1)!.length,
  };
  return {
    edit: { range: { start, end: start }, text },
    back: { range: { start, end }, text: '' },
    at: end,
  };
}

/** Places all over a route's text for requests of this kind, each sent right after a keystroke. */
export function placesFor(kind: RequestKind, text: string, count: number, random: Random): TimedRequest[] {
  const lines = text.split('\n');
  const found = (pattern: RegExp): { line: number; length: number }[] =>
    lines.flatMap((content, line) => (pattern.test(content) ? [{ line, length: content.length }] : []));
  const pick = <T>(items: readonly T[]): T => {
    const [first, ...more] = items;
    if (first === undefined) throw new Error(`The generated route has no place for ${kind}.`);
    return random.pick([first, ...more]);
  };
  const uses = found(/^ {6}- [\w-]+$/);
  const saves = found(/^ {4}saves: \d+\.\d$/);
  const keys = found(/^ {4}difficulty: \d$/);
  const inSaves = (at: Position): TimedRequest => {
    const { line, length } = pick(saves);
    return { ...typed(line, length, '5'), at };
  };
  return Array.from({ length: count }, (): TimedRequest => {
    if (kind === 'hover on an id') return inSaves({ line: pick(uses).line, character: 10 });
    if (kind === 'hover on a key') return inSaves({ line: pick(keys).line, character: 8 });
    const { line, length } = pick(kind === 'completion at a use' ? uses : keys);
    return typed(line, length, kind === 'completion at a use' ? 'x' : '\n    n');
  });
}

/** Milliseconds from a request to its answer: sent right after a keystroke, and sent to an idle server. */
export interface Answering {
  readonly typing: number[];
  readonly rest: number[];
  /** Entries of each completion; the text of a hover counts as one. */
  readonly said: number[];
}

/**
 * Sends requests about one generated route to every server by turns. The route's logs have 2,000 blocks of practice and
 * 60 evenings of runs.
 */
export async function measureAsking<Name extends string>(
  servers: Readonly<Record<Name, ServerCommand>>,
  lines: number,
  rounds: number,
  seed: number,
): Promise<Record<Name, Record<RequestKind, Answering>>> {
  const route = makeRoute(seed, { lines });
  const { text } = route;
  const file = 'lanternfall.route.yaml';
  const { folder, folderUri, uri } = folderWith(text, {
    'lanternfall.practice.yaml': makePractice(seed + 1, route, file, blocks),
    'lanternfall.runs.yaml': makeRuns(seed + 2, route, file, evenings),
  });
  const random = createRandom(seed + 3);
  const asked = Object.fromEntries(
    requestKinds.map((kind) => [kind, placesFor(kind, text, 2 * rounds + warmUp, random)]),
  ) as Record<RequestKind, TimedRequest[]>;
  const names = Object.keys(servers) as Name[];
  const results = Object.fromEntries(
    names.map((name) => [
      name,
      Object.fromEntries(requestKinds.map((kind) => [kind, { typing: [], rest: [], said: [] }])),
    ]),
  ) as unknown as Record<Name, Record<RequestKind, Answering>>;
  const clients: { name: Name; client: Client }[] = [];
  try {
    const [mistake] = mistakesIn(text, 1, random);
    for (const name of names) {
      const client = await Client.start(servers[name], folderUri);
      clients.push({ name, client });
      await openAndCorrect(client, uri, text, mistake!);
      // As an editor does: a server may compute in advance what it knows to be visible.
      await client.ask(CodeLensRequest.type, { textDocument: { uri } });
    }
    for (let round = -warmUp; round < rounds; round += 1) {
      for (const kind of requestKinds)
        for (const { name, client } of clients) {
          await waitUntilIdle(client.pid);
          const answering = results[name][kind];
          const [now, later] = [asked[kind][round + warmUp]!, asked[kind][round + warmUp + rounds]!];
          void client.send(uri, now.edit);
          const first = await ask(client, uri, kind, now.at);
          await client.send(uri, now.back);
          await client.send(uri, later.edit);
          await waitUntilIdle(client.pid);
          const second = await ask(client, uri, kind, later.at);
          await client.send(uri, later.back);
          if (round < 0) continue;
          answering.typing.push(first.ms);
          answering.rest.push(second.ms);
          answering.said.push(first.said, second.said);
        }
    }
    return results;
  } finally {
    await Promise.all(clients.map(({ client }) => client.stop()));
    removeFolder(folder);
  }
}

/** Sends a request and counts the entries of the answer. */
async function ask(
  client: Client,
  uri: string,
  kind: RequestKind,
  position: Position,
): Promise<{ ms: number; said: number }> {
  const params = { textDocument: { uri }, position };
  if (kind.startsWith('hover')) {
    const { ms, result } = await client.ask(HoverRequest.type, params);
    return { ms, said: result ? 1 : 0 };
  }
  const { ms, result } = await client.ask(CompletionRequest.type, params);
  return { ms, said: (Array.isArray(result) ? result : (result?.items ?? [])).length };
}

/** The table's lines about requests. */
export async function askingRows(lines: number, rounds: number, seed: number): Promise<Row[]> {
  const measured = await measureAsking({ own, general }, lines, rounds, seed);
  return requestKinds.flatMap((kind) => {
    const [ours, theirs] = [measured.own[kind], measured.general[kind]];
    const what = `${kind[0]!.toUpperCase()}${kind.slice(1)}, ${lines.toLocaleString('en')} lines, right after an edit`;
    return [
      row(what, 'ms', ours.typing, general.name, theirs.typing),
      row('… of a server at rest', 'ms', ours.rest, general.name, theirs.rest),
    ];
  });
}
