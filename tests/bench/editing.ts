import { setTimeout as sleep } from 'node:timers/promises';
import { parseDocument } from 'yaml';
import { createRandom } from '../../samples/simulation/random.ts';
import { Client, type ServerCommand } from './client.ts';
import { makeMistake, correctMistake, mistakesIn, openAndCorrect, type Within } from './edits.ts';
import { folderWith, removeFolder } from './folder.ts';
import { waitUntilIdle, memoryOf } from './memory.ts';
import { byTurns, timed } from './samples.ts';
import { empty, general, generalAtOnce } from './servers.ts';
import { row, type Row } from './table.ts';

/** What was measured of one server. */
export interface Editing {
  /** Milliseconds from an edit to the diagnostics that show its effect: a mistake made, then corrected. */
  readonly edits: readonly number[];
  /** The same for an edit half a second after the one before, even if the server is still busy then. */
  readonly typing: readonly number[];
  /** MB of resident memory after the last edit, and the highest value; empty where the system does not give it. */
  readonly memory: readonly number[];
  readonly highestMemory: readonly number[];
}

/** Milliseconds between two edits of a person who keeps typing. */
const typingPauseMs = 500;

/** Mistakes made and corrected before the measurement: the runtime compiles code that runs often. */
const warmUp = 3;

/**
 * Edits a generated route in every server by turns, each in a process of its own that sees a folder with that file
 * only. By turns, the bare `yaml` library parses the whole text as well: the least that a full reading can cost.
 *
 * @param within the part of the text that is edited; left out: all of it
 */
export async function measureEditing<Name extends string>(
  servers: Readonly<Record<Name, ServerCommand>>,
  text: string,
  rounds: number,
  seed: number,
  within?: Within,
): Promise<{ servers: Record<Name, Editing>; parse: readonly number[] }> {
  const mistakes = mistakesIn(text, rounds + warmUp, createRandom(seed + 1), within);
  const { folder, folderUri, uri } = folderWith(text);

  const edit = async (client: Client, round: number, pause: () => Promise<unknown>): Promise<number[]> => {
    const mistake = mistakes[round + warmUp];
    if (!mistake) return [];
    const shownMs = await makeMistake(client, uri, mistake);
    await pause();
    const goneMs = await correctMistake(client, uri, mistake);
    await pause();
    return [shownMs, goneMs];
  };
  const calmly = (client: Client, round: number): Promise<number[]> =>
    edit(client, round, () => waitUntilIdle(client.pid));
  // Three mistakes and their corrections in a row. The first edit meets an idle server and does not count.
  const typing = async (client: Client, round: number): Promise<number[]> => {
    const taken: number[] = [];
    for (const place of [0, 1, 2]) {
      taken.push(...(await edit(client, (round + place) % rounds, () => sleep(typingPauseMs))));
    }
    await waitUntilIdle(client.pid);
    return taken.slice(1);
  };
  const names = Object.keys(servers) as Name[];
  const clients: { name: Name; client: Client }[] = [];
  try {
    for (const name of names) {
      const client = await Client.start(servers[name], folderUri);
      clients.push({ name, client });
      await openAndCorrect(client, uri, text, mistakes[0]!);
      for (let round = 0; round < warmUp; round += 1) await calmly(client, round - warmUp);
    }
    const byServer = (measure: (client: Client, round: number) => Promise<number[]>) =>
      Object.fromEntries(
        clients.map(({ name, client }) => [name, (round: number) => measure(client, round)]),
      ) as Record<Name, (round: number) => Promise<number[]>>;
    parseDocument(text);
    const edits = await byTurns<Name | 'parse'>(rounds, {
      parse: () => timed(() => parseDocument(text)),
      ...byServer(calmly),
    });
    const typed = await byTurns(Math.ceil(rounds / 4), byServer(typing));
    const measured = clients.map(({ name, client }): [Name, Editing] => {
      const memory = memoryOf(client.pid);
      return [
        name,
        {
          edits: edits[name],
          typing: typed[name],
          memory: memory ? [memory.now] : [],
          highestMemory: memory ? [memory.highest] : [],
        },
      ];
    });
    return { servers: Object.fromEntries(measured) as Record<Name, Editing>, parse: edits.parse };
  } finally {
    await Promise.all(clients.map(({ client }) => client.stop()));
    removeFolder(folder);
  }
}

/** The table's lines about one route. */
export function editRows(
  route: string,
  { own, general: other, atOnce, empty: nothing }: Record<'own' | 'general' | 'atOnce' | 'empty', Editing>,
  parse: readonly number[],
  bareParse: string,
): Row[] {
  return [
    row(`Edit to diagnostics, server idle before, ${route}`, 'ms', own.edits, general.name, other.edits),
    row('the same', 'ms', own.edits, generalAtOnce.name, atOnce.edits),
    row('the same', 'ms', own.edits, bareParse, parse),
    row('the same', 'ms', own.edits, empty.name, nothing.edits),
    row('… typing on, half a second after the edit before', 'ms', own.typing, general.name, other.typing),
    row('the same', 'ms', own.typing, generalAtOnce.name, atOnce.typing),
  ];
}

export function memoryRows({ own, general: other }: Record<'own' | 'general', Editing>): Row[] {
  if (own.memory.length === 0) return [];
  return [
    row('… resident memory after the edits', 'MB', own.memory, general.name, other.memory),
    row('… resident memory at its highest', 'MB', own.highestMemory, general.name, other.highestMemory),
  ];
}
