import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { removeFolder } from './folder.ts';
import { makePractice } from './logs.ts';
import { makeRoute } from './route.ts';
import { byTurns, timed } from './samples.ts';
import { root } from './servers.ts';
import type { Row } from './table.ts';

const names = { route: 'lanternfall.route.yaml', practice: 'lanternfall.practice.yaml' } as const;
const techniques = 200;
/** The number of blocks in about 5 MB. */
const blocks = 66_000;
const command = join(root, 'server/dist/cli.js');

/** A runner's folder, and a state folder for its journals only. */
interface Place {
  readonly folder: string;
  readonly state: string;
}

function placeWith(route: string, practice: string): Place {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-bench-'));
  writeFileSync(join(folder, names.route), route);
  writeFileSync(join(folder, names.practice), practice);
  return { folder, state: mkdtempSync(join(tmpdir(), 'routewright-bench-')) };
}

/** Logs one attempt by the command line in a new process, as a hotkey does. */
function logOne({ folder, state }: Place, technique: string): void {
  const { status, stderr } = spawnSync(process.execPath, [command, 'log', technique, '--landed'], {
    cwd: folder,
    env: { ...process.env, ROUTEWRIGHT_STATE_HOME: state },
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`An attempt was not logged: ${stderr}`);
}

/**
 * Logs single attempts by turns into a practice file of 5 MB and into an empty one: each time from the start of the
 * process to its end, and once more as the first after the route was changed.
 */
export async function measureLogging(seed: number, rounds: number): Promise<Row[]> {
  const route = makeRoute(seed, { techniques });
  const technique = route.techniques[0]?.id ?? '';
  const long = placeWith(route.text, makePractice(seed + 1, route, names.route, blocks));
  const empty = placeWith(route.text, `route: ${names.route}\nsessions: []\n`);
  const megabytes = readFileSync(join(long.folder, names.practice)).length / 1e6;
  const afterEdit = (place: Place, round: number): readonly number[] => {
    // The command line recognises a changed file by its time of change.
    utimesSync(join(place.folder, names.route), round + 1, round + 1);
    return timed(() => logOne(place, technique));
  };
  try {
    for (const place of [long, empty]) logOne(place, technique);
    const samples = await byTurns(rounds, {
      long: () => timed(() => logOne(long, technique)),
      empty: () => timed(() => logOne(empty, technique)),
      longEdited: (round) => afterEdit(long, round),
      emptyEdited: (round) => afterEdit(empty, round),
    });
    const name = 'the same into an empty practice file';
    return [
      {
        what: `One attempt logged by the command line, practice file of ${megabytes.toFixed(1)} MB`,
        unit: 'ms',
        own: samples.long,
        other: { name, sample: samples.empty },
      },
      {
        what: '… the first one after the route was changed',
        unit: 'ms',
        own: samples.longEdited,
        other: { name, sample: samples.emptyEdited },
      },
    ];
  } finally {
    for (const { folder, state } of [long, empty]) {
      removeFolder(folder);
      removeFolder(state);
    }
  }
}
