import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { env } from 'node:process';
import { pathToFileURL } from 'node:url';
import { beforeAll, expect, test } from 'vitest';
import { chance } from '../arena/random.ts';
import { programOf } from '../helpers/commandLine.ts';
import { accountOf } from './account.ts';
import type { Fault } from './faults.ts';
import { ownFolder } from './place.ts';
import { begin, eachLine, listen, place, recover, type Place } from './processes.ts';

/*
 * A process that logs is ended with SIGKILL at random points, on clocks that are wrong by an hour, while another program
 * edits the same file. ROUTEWRIGHT_LONG=1 makes it 510 kills. After ten kills it begins again with a new file, because the
 * edits make it long.
 */
const placesEach = env.ROUTEWRIGHT_LONG === '1' ? 17 : 1;
const killsEach = 10;
const seed = 20261006;
const hour = 3_600_000;

let loop: string;
let foreign: string;
let faults: string;

beforeAll(async () => {
  loop = await programOf('tests/journal/loggingProgram.ts', ownFolder());
  foreign = await programOf('tests/journal/foreignProgram.ts', ownFolder());
  faults = await programOf('tests/journal/faults.ts', ownFolder());
});

/** Numbers of the edits that are in the file, and of those in copies beside it. */
function editsIn({ folder }: Place): { readonly file: Set<number>; readonly beside: Set<number> } {
  const found = { file: new Set<number>(), beside: new Set<number>() };
  for (const name of readdirSync(folder)) {
    if (!name.startsWith('lanternfall.practice.yaml')) continue;
    const set = name === 'lanternfall.practice.yaml' ? found.file : found.beside;
    for (const [, number] of readFileSync(join(folder, name), 'utf8').matchAll(/# edit (\d+)\./g))
      set.add(Number(number));
  }
  return found;
}

test.each(['rename', 'in place', 'in place, slowly'])(
  `${placesEach * killsEach} kills while another program edits the file: %s`,
  async (how) => {
    const sum = { kills: 0, acknowledged: 0, found: 0, doubled: 0, edits: 0, lost: 0, beside: 0 };
    for (let number = 0; number < placesEach; number++) {
      const { account, edits, lost, beside, leftovers } = await killsIn(place(), how, seed + 1000 * number);
      sum.kills += killsEach;
      sum.acknowledged += account.acknowledged;
      sum.found += account.found;
      sum.doubled += account.doubled;
      sum.edits += edits;
      sum.lost += lost.length;
      sum.beside += beside;
      console.log(`edits by ${how}: ${JSON.stringify({ ...sum, seed })}`);
      expect(account).toMatchObject({ found: account.acknowledged, doubled: 0 });
      expect(lost).toEqual([]);
      expect(account.acknowledged).toBeGreaterThan(killsEach * 2);
      expect(edits).toBeGreaterThan(killsEach * 5);
      expect(leftovers).toEqual([]);
    }
  },
  7_200_000,
);

/** Ends processes that log in a place, while another program edits the file, and looks what is found afterwards. */
async function killsIn(at: Place, how: string, from: number) {
  const { between, whole } = chance(from);
  const edits = new Set<number>();
  const other = begin(at, foreign, [at.journal.path, how, String(from)]);
  const edited = eachLine(other, (line) => void edits.add(Number(line)));
  for (let kill = 0; kill < killsEach; kill++) {
    const fault: Fault = { clock: [0, -hour, hour][kill % 3]! };
    const child = begin(at, loop, [String(from + kill), '60', '0.6'], {
      NODE_OPTIONS: `--import ${pathToFileURL(faults).href}`,
      ROUTEWRIGHT_FAULT: JSON.stringify(fault),
    });
    const after = whole(1, 6);
    const pause = between(0, 250);
    await listen(at, child, (count) => {
      if (count === after) setTimeout(() => child.kill('SIGKILL'), pause);
    });
  }
  other.stdin!.end();
  await edited;
  expect(other.exitCode).toBe(0);
  await recover(at);
  // What is left behind is looked at again once nobody can write to it any more.
  await new Promise((resolve) => setTimeout(resolve, 1_200));
  await recover(at);
  const found = editsIn(at);
  return {
    account: accountOf(at.journal, at.acknowledged),
    edits: edits.size,
    lost: [...edits].filter((edit) => !found.file.has(edit) && !found.beside.has(edit)),
    beside: [...edits].filter((edit) => !found.file.has(edit)).length,
    leftovers: readdirSync(at.folder).filter((name) => /\.(?:old|new)$/.test(name)),
  };
}
