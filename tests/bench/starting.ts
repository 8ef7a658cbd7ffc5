import { createRandom } from '../../samples/simulation/random.ts';
import { Client, type ServerCommand } from './client.ts';
import { mistakesIn, openWithMistake } from './edits.ts';
import { folderWith, removeFolder } from './folder.ts';
import { waitUntilIdle } from './memory.ts';
import { makeRoute } from './route.ts';
import { byTurns } from './samples.ts';

/** Milliseconds; a new process for each. */
export interface Starting {
  /** From starting the process to its answer to `initialize`. */
  readonly start: number[];
  /** From opening a route with one mistake, right after that answer, to its error. */
  readonly open: number[];
  /** From starting the process to that error: the sum of both. */
  readonly all: number[];
}

/** Starts every server by turns and opens one generated route in it. */
export async function measureStart<Name extends string>(
  servers: Readonly<Record<Name, ServerCommand>>,
  lines: number,
  rounds: number,
  seed: number,
): Promise<Record<Name, Starting>> {
  const { text } = makeRoute(seed, { lines });
  const mistakes = mistakesIn(text, rounds, createRandom(seed + 1));
  const { folder, folderUri, uri } = folderWith(text);
  const start = async (server: ServerCommand, round: number): Promise<number[]> => {
    const client = await Client.start(server, folderUri);
    try {
      const mistake = mistakes[round] ?? { line: 0, character: 0 };
      const opened = await openWithMistake(client, uri, text, mistake);
      await waitUntilIdle(client.pid);
      return [client.startMs, opened];
    } finally {
      await client.stop();
    }
  };
  try {
    const names = Object.keys(servers) as Name[];
    const turns = names.map((name) => [name, (round: number) => start(servers[name], round)]);
    const samples = await byTurns(
      rounds,
      Object.fromEntries(turns) as Record<Name, (round: number) => Promise<number[]>>,
    );
    const pairs = names.map((name): [Name, Starting] => {
      const start = samples[name].filter((_, i) => i % 2 === 0);
      const open = samples[name].filter((_, i) => i % 2 === 1);
      return [name, { start, open, all: start.map((ms, i) => ms + open[i]!) }];
    });
    return Object.fromEntries(pairs) as Record<Name, Starting>;
  } finally {
    removeFolder(folder);
  }
}
