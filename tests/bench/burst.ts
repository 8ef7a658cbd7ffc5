import type {
  PublishDiagnosticsParams,
  TextDocumentContentChangeEvent,
} from 'vscode-languageserver-protocol';
import { createRandom, type Random } from '../../samples/simulation/random.ts';
import { Client, type Expectation, type ServerCommand } from './client.ts';
import { noErrorShown, openAndCorrect, mistakesIn, errorShownOn, type Mistake } from './edits.ts';
import { folderWith, removeFolder } from './folder.ts';
import { waitUntilIdle } from './memory.ts';
import { makeRoute } from './route.ts';
import { byTurns } from './samples.ts';
import { generalAtOnce, own } from './servers.ts';
import { row, type Row } from './table.ts';

/** Keys pressed one right after the other. */
export interface Burst {
  readonly keys: readonly TextDocumentContentChangeEvent[];
  /** The change that removes all of them. */
  readonly back: TextDocumentContentChangeEvent;
  /** The line on which the last key, and only that one, makes an error. */
  readonly line: number;
}

/** What was measured of one server. */
export interface Bursts {
  /** Milliseconds from the last key sent to the diagnostics of the text with all of them. */
  readonly settled: number[];
  /** For each burst: how often diagnostics of an older text came after those of a newer one. */
  readonly older: number[];
}

const note = 'notes: "wait for the fourth"';

/**
 * A note is typed below a segment's time, and then a letter after that time, which makes the time invalid: thirty keys,
 * of which only the last changes the line of the time.
 */
export function burstAt({ line, character }: Mistake): Burst {
  const at = (place: number, from: number): { line: number; character: number } => ({
    line: place,
    character: from,
  });
  const insert = (
    place: { line: number; character: number },
    text: string,
  ): TextDocumentContentChangeEvent => ({
    range: { start: place, end: place },
    text,
  });
  const typed = [...note].map((key, i) => insert(at(line + 1, 4 + i), key));
  const keys = [insert(at(line, character), '\n    '), ...typed, insert(at(line, character), 'x')];
  const end = at(line + 1, 4 + note.length);
  return { keys, back: { range: { start: at(line, character), end }, text: '' }, line };
}

/** Places at the end of the time of segments that have no note. */
export function burstPlaces(text: string, count: number, random: Random): Mistake[] {
  const lines = text.split('\n');
  const places = lines.flatMap((content, line): Mistake[] => {
    if (!/^ {4}time: .*$/.test(content)) return [];
    const length = lines.slice(line + 1).findIndex((one) => !one.startsWith('    '));
    const entry = lines.slice(line + 1, line + 1 + length);
    return entry.some((one) => one.startsWith('    notes:')) ? [] : [{ line, character: content.length }];
  });
  const [first, ...more] = places;
  if (!first) throw new Error('The generated route has no segment without a note.');
  return Array.from({ length: count }, () => random.pick([first, ...more]));
}

/**
 * How many messages are about an older text than a message before them. The version decides; where there is none, a
 * message is older if it lacks the error of the last text after an earlier message had that error.
 *
 * @param published in the order in which it came
 */
export function countOlderAfterNewer(
  published: readonly PublishDiagnosticsParams[],
  expected: Expectation,
): number {
  let newest = -Infinity;
  let wasShown = false;
  let count = 0;
  for (const one of published) {
    const { version } = one;
    if (version === undefined ? wasShown && !expected(one) : version < newest) count += 1;
    newest = Math.max(newest, version ?? -Infinity);
    wasShown ||= expected(one);
  }
  return count;
}

/** Sends bursts of thirty keys to every server by turns. */
export async function measureBursts<Name extends string>(
  servers: Readonly<Record<Name, ServerCommand>>,
  lines: number,
  rounds: number,
  seed: number,
): Promise<Record<Name, Bursts>> {
  const { text } = makeRoute(seed, { lines });
  const random = createRandom(seed + 1);
  const bursts = burstPlaces(text, rounds + 1, random).map(burstAt);
  const { folder, folderUri, uri } = folderWith(text);
  const names = Object.keys(servers) as Name[];
  const clients: { name: Name; client: Client }[] = [];
  const type = async (client: Client, { keys, back, line }: Burst): Promise<[number, number]> => {
    const published: PublishDiagnosticsParams[] = [];
    client.onDiagnostics = (one) => published.push(one);
    const ms = await client.burst(uri, keys, errorShownOn(line));
    await waitUntilIdle(client.pid);
    client.onDiagnostics = undefined;
    await client.change(uri, back, noErrorShown);
    await waitUntilIdle(client.pid);
    return [ms, countOlderAfterNewer(published, errorShownOn(line))];
  };
  try {
    const [mistake] = mistakesIn(text, 1, random);
    for (const name of names) {
      const client = await Client.start(servers[name], folderUri);
      clients.push({ name, client });
      await openAndCorrect(client, uri, text, mistake!);
      await type(client, bursts[rounds]!);
    }
    const turns = clients.map(({ name, client }) => [name, (round: number) => type(client, bursts[round]!)]);
    const samples = await byTurns(
      rounds,
      Object.fromEntries(turns) as Record<Name, (round: number) => Promise<number[]>>,
    );
    const results = names.map((name): [Name, Bursts] => [
      name,
      {
        settled: samples[name].filter((_, i) => i % 2 === 0),
        older: samples[name].filter((_, i) => i % 2 === 1),
      },
    ]);
    return Object.fromEntries(results) as Record<Name, Bursts>;
  } finally {
    await Promise.all(clients.map(({ client }) => client.stop()));
    removeFolder(folder);
  }
}

/** The table's lines about bursts. */
export async function burstRows(lines: number, rounds: number, seed: number): Promise<Row[]> {
  const measured = await measureBursts({ own, atOnce: generalAtOnce }, lines, rounds, seed);
  const { name } = generalAtOnce;
  const what = `Thirty keys at once, ${lines.toLocaleString('en')} lines: from the last one to its diagnostics`;
  const all = (counts: readonly number[]): number[] => [counts.reduce((sum, count) => sum + count, 0)];
  return [
    row(what, 'ms', measured.own.settled, name, measured.atOnce.settled),
    row(
      '… diagnostics of an older text behind newer ones',
      '',
      all(measured.own.older),
      name,
      all(measured.atOnce.older),
    ),
  ];
}
