import { createRandom } from '../../samples/simulation/random.ts';
import { Client, type ServerCommand } from './client.ts';
import { makeMistake, correctMistake, mistakesIn, openAndCorrect } from './edits.ts';
import { folderWith, removeFolder } from './folder.ts';
import { waitUntilIdle, memoryOf } from './memory.ts';
import { makeRoute } from './route.ts';
import { generalAtOnce, own } from './servers.ts';
import { row, type Row } from './table.ts';

/** MB of resident memory of a server during very many edits; empty where the system does not give it. */
export interface Lasting {
  readonly early: readonly number[];
  readonly late: readonly number[];
}

/** Edits before the first measurement; by then all code has been compiled and all text read once. */
const earlyEdits = 100;
/**
 * Free memory is returned to the system only now and then, so memory is measured several times, `editsBetween` edits apart.
 */
const measurements = 5;
const editsBetween = 24;

/** Whether memory is measured at this number of edits after the first measurement, or before the last one. */
function isMeasuredAt(edits: number): boolean {
  return edits >= 0 && edits < measurements * editsBetween && edits % editsBetween === 0;
}

/** Makes `edits` edits in one generated route, each sent when the diagnostics of the one before have arrived. */
export async function measureLasting(
  server: ServerCommand,
  lines: number,
  edits: number,
  seed: number,
): Promise<Lasting> {
  const { text } = makeRoute(seed, { lines });
  const mistakes = mistakesIn(text, Math.ceil(edits / 2), createRandom(seed + 1));
  const { folder, folderUri, uri } = folderWith(text);
  const client = await Client.start(server, folderUri);
  const look = async (): Promise<number[]> => {
    await waitUntilIdle(client.pid);
    const memory = memoryOf(client.pid);
    return memory ? [memory.now] : [];
  };
  try {
    await openAndCorrect(client, uri, text, mistakes[0]!);
    const early: number[] = [];
    const late: number[] = [];
    for (const [i, mistake] of mistakes.entries()) {
      await makeMistake(client, uri, mistake);
      await correctMistake(client, uri, mistake);
      const [since, left] = [2 * (i + 1) - earlyEdits, edits - 2 * (i + 1)];
      if (isMeasuredAt(since)) early.push(...(await look()));
      if (isMeasuredAt(left)) late.push(...(await look()));
    }
    return { early, late };
  } finally {
    await client.stop();
    removeFolder(folder);
  }
}

/** The table's lines about memory. The general server makes fewer edits, since it takes ten times as long for each. */
export async function lastingRows(
  lines: number,
  edits: { readonly own: number; readonly general: number },
  seed: number,
): Promise<Row[]> {
  const ours = await measureLasting(own, lines, edits.own, seed);
  const theirs = await measureLasting(generalAtOnce, lines, edits.general, seed);
  if (ours.late.length === 0) return [];
  const { name } = generalAtOnce;
  const many = (count: number): string => count.toLocaleString('en');
  return [
    row(
      `Resident memory after ${earlyEdits} edits, ${many(lines)} lines`,
      'MB',
      ours.early,
      name,
      theirs.early,
    ),
    row(
      `… after ${many(edits.own)}, an hour of one a second`,
      'MB',
      ours.late,
      `${name}, after ${many(edits.general)}`,
      theirs.late,
    ),
  ];
}
