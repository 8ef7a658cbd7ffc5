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
 * edits the same file. ROUTEWRIGHT_LONG=1 makes it 510 kills.
 */
const killsEach = env.ROUTEWRIGHT_LONG === '1' ? 170 : 12;
const seed = 20261006;
const hour = 3_600_000;

let loop: string;
let foreign: string;
let faults: string;

beforeAll(async () => {
  loop = await programOf('tests/journal/loggingProgram.ts', ownFolder());
  foreign = await programOf('tests/journal/foreignProgram.ts', ownFolder());
  faults = await programOf('tests/journal/faults.ts', ownFolder());
}, 300_000);

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
  `${killsEach} kills while another program edits the file: %s`,
  async (how) => {
    const at = place();
    const { between, whole } = chance(seed);
    const edits = new Set<number>();
    const other = begin(at, foreign, [at.journal.path, how, String(seed)]);
    const edited = eachLine(other, (line) => void edits.add(Number(line)));
    for (let kill = 0; kill < killsEach; kill++) {
      const fault: Fault = { clock: [0, -hour, hour][kill % 3]! };
      const child = begin(at, loop, [String(seed + kill), '60', '0.6'], {
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
    const account = accountOf(at.journal, at.acknowledged);
    const found = editsIn(at);
    const lost = [...edits].filter((edit) => !found.file.has(edit) && !found.beside.has(edit));
    const beside = [...edits].filter((edit) => !found.file.has(edit)).length;
    console.log(
      `${killsEach} kills, edits by ${how}: ${JSON.stringify({ ...account, edits: edits.size, lost: lost.length, beside, seed })}`,
    );
    expect(account).toMatchObject({ found: at.acknowledged.size, doubled: 0 });
    expect(lost).toEqual([]);
    expect(account.acknowledged).toBeGreaterThan(killsEach * 2);
    expect(edits.size).toBeGreaterThan(killsEach * 5);
    expect(readdirSync(at.folder).filter((name) => /\.(?:old|new)$/.test(name))).toEqual([]);
  },
  1_800_000,
);
