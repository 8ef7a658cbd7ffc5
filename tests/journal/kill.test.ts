import type { ChildProcess } from 'node:child_process';
import { env } from 'node:process';
import { beforeAll, describe, expect, test } from 'vitest';
import { chance } from '../arena/random.ts';
import { programOf } from '../helpers/commandLine.ts';
import { accountOf } from './account.ts';
import { ownFolder } from './place.ts';
import { begin, listen, place, recover } from './processes.ts';

/*
 * Processes that log are ended with SIGKILL at random points. What they acknowledged must be found afterwards, each
 * attempt once. ROUTEWRIGHT_LONG=1 makes it 200 kills, and a minute of two writers in place of a few seconds.
 */
const long = env.ROUTEWRIGHT_LONG === '1';
const kills = long ? 150 : 30;
const commandKills = long ? 50 : 10;
const together = long ? 60 : 4;
const seed = 20261005;

let loop: string;
let command: string;

beforeAll(async () => {
  loop = await programOf('tests/journal/loggingProgram.ts', ownFolder());
  command = await programOf('server/src/cli.ts', ownFolder());
});

describe('killed at random points', () => {
  test(`${kills} kills of a process that logs: every acknowledged attempt is found once`, async () => {
    const at = place();
    const { between, whole } = chance(seed);
    for (let kill = 0; kill < kills; kill++) {
      const child = begin(at, loop, [String(seed + kill)]);
      const after = whole(1, 70);
      const pause = between(0, 4);
      await listen(at, child, (count) => {
        if (count === after) setTimeout(() => child.kill('SIGKILL'), pause);
      });
    }
    expect(at.acknowledged.size).toBeGreaterThan(kills * 20);
    const before = accountOf(at.journal, at.acknowledged);
    expect(before).toMatchObject({ found: at.acknowledged.size, doubled: 0 });
    await recover(at);
    const after = accountOf(at.journal, at.acknowledged);
    console.log(`${kills} kills: ${JSON.stringify({ ...after, seed })}`);
    expect(after).toMatchObject({ found: at.acknowledged.size, doubled: 0 });
    expect(after.inFile).toBe(after.found + after.unacknowledged);
    // At most the one attempt that a process was at when it ended.
    expect(after.unacknowledged).toBeLessThanOrEqual(kills);
  });

  test(`${commandKills} kills of the command line itself`, async () => {
    const at = place();
    const { between, next } = chance(seed + 1);
    const run = async (args: readonly string[], killing: (child: ChildProcess) => void) => {
      const child = begin(at, command, args);
      let out = '';
      child.stdout!.on('data', (chunk: Buffer) => (out += chunk.toString()));
      const closed = new Promise((resolve) => child.on('close', resolve));
      killing(child);
      await closed;
      const [, id] = /"kind": "attempt",\s+"id": "(\w+)"/.exec(out) ?? [];
      if (id !== undefined) at.acknowledged.set(id, 'l');
    };
    const landed = ['log', 'crate-vault', '--landed', '--json'];
    await run(landed, () => undefined);
    const begun = performance.now();
    await run(landed, () => undefined);
    const lasts = performance.now() - begun;
    for (let kill = 0; kill < commandKills; kill++) {
      const late = kill % 2 === 0;
      const pause = late ? between(0, 0.3 * lasts) : between(0.3 * lasts, 1.2 * lasts);
      await run(next() < 0.3 ? ['log', '--end', '--json'] : landed, (child) => {
        const end = () => void setTimeout(() => child.kill('SIGKILL'), pause);
        // Half of them once they have answered, when they bring to the disk and fold.
        if (late) child.stdout!.once('data', end);
        else end();
      });
    }
    await recover(at);
    const account = accountOf(at.journal, at.acknowledged);
    console.log(`${commandKills} kills of the command line: ${JSON.stringify(account)}`);
    expect(account).toMatchObject({ found: at.acknowledged.size, doubled: 0 });
    expect(account.acknowledged).toBeGreaterThan(commandKills / 5);
  });
});

test(`two processes log into one block for ${together} s`, async () => {
  const at = place();
  const children = [1, 2].map((writer) => begin(at, loop, [String(seed + writer), String(together)]));
  await Promise.all(children.map((child) => listen(at, child)));
  await recover(at);
  const account = accountOf(at.journal, at.acknowledged);
  console.log(`two writers, ${together} s: ${JSON.stringify(account)}`);
  expect(account).toMatchObject({ found: at.acknowledged.size, doubled: 0, unacknowledged: 0 });
  expect(account.inFile).toBe(at.acknowledged.size);
  expect(account.acknowledged).toBeGreaterThan(100);
});
