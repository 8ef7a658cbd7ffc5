import { execFileSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { env, execPath } from 'node:process';
import { expect, test } from 'vitest';
import { bytesRead } from '../helpers/bytesRead.ts';
import { programOf } from '../helpers/commandLine.ts';
import { Desk, started } from '../helpers/desk.ts';
import { route } from '../helpers/smallRoute.ts';
import { momentNow } from '../../server/src/journal/clock.ts';
import { runCommandLine } from '../../server/src/cli/run.ts';
import { folderOf } from './place.ts';

const weeks = 520;
const week = 7 * 24 * 3600;
const evening = 24 * 3600;

/** With a technique that nobody practises, so that there is always one to rank. */
const files = {
  ...started,
  'lanternfall.route.yaml': `${route.replace('[wall-kick]', '[wall-kick, rope-swing]')}  rope-swing: { difficulty: 5, saves: 4, loses: 2 }\n`,
};

/** Bytes of all files in a folder and below it. */
function sizeOf(folder: string): number {
  return readdirSync(folder, { withFileTypes: true }).reduce((sum, entry) => {
    const path = join(folder, entry.name);
    return sum + (entry.isDirectory() ? sizeOf(path) : statSync(path).size);
  }, 0);
}

test('in ten years of logging, an entry never reads much of the journal, and journal and kept answers stay small', async () => {
  const desk = new Desk(files, '2016-10-05T19:30');
  const cache = folderOf({});
  const journals = join(desk.state, 'routewright', 'journal');
  const program = await programOf('server/src/cli.ts', folderOf({}));
  const byProgram = (...args: readonly string[]): string =>
    execFileSync(execPath, [program, 'log', ...args], {
      cwd: desk.folder,
      env: { ...env, ROUTEWRIGHT_STATE_HOME: desk.state },
      encoding: 'utf8',
    });
  const rank = (): Promise<number> =>
    runCommandLine(
      ['rank'],
      {
        cwd: desk.folder,
        env: { ROUTEWRIGHT_STATE_HOME: desk.state, ROUTEWRIGHT_CACHE_HOME: cache },
        build: 'tests',
        stdout: { write: () => undefined, isTTY: false },
        stderr: { write: () => undefined, isTTY: false },
        now: () => momentNow(desk.clock),
      },
      () => Promise.resolve(),
    );
  const logged = async (...args: readonly string[]): Promise<void> => {
    const { code, err } = await desk.log(...args);
    expect([args, code, err]).toEqual([args, 0, '']);
  };
  /** Evenings of a week: one with a block that is counted at its end, one with attempts as they come. */
  const practise = async (): Promise<void> => {
    await logged('crate-vault', '--landed', '12', '--tries', '20', '--minutes', '15');
    desk.clock.pass(evening);
    await logged('wall-kick', '--landed');
    desk.clock.pass(8);
    await logged('--missed');
    await logged('--end');
    desk.clock.pass(week - evening);
  };

  expect(byProgram('crate-vault', '--tape', 'lml', '--at', '2016-10-04T19:30')).toContain('Into ');
  await practise();
  const first = await bytesRead((path) => path.startsWith(journals), practise);
  const sizes: number[] = [];
  for (let at = 0; at < weeks; at++) {
    await practise();
    if (at % 52 === 51) {
      expect(await rank()).toBe(0);
      sizes.push(sizeOf(journals));
    }
  }
  const last = await bytesRead((path) => path.startsWith(journals), practise);
  expect(byProgram('crate-vault', '--tape', 'mmm', '--at', '2026-10-07T18:00')).toContain('Into ');

  const blocks = desk.text().match(/id: b-/g) ?? [];
  expect(blocks).toHaveLength(2 * (weeks + 3) + 2);
  expect(new Set(desk.text().match(/id: b-\w+/g)).size).toBe(blocks.length);
  // The file of seals, which is compacted at 32 kB, is read about eight times for each of four commands.
  expect(first.bytes).toBeLessThan(100_000);
  expect(last.bytes).toBeLessThan(1_000_000);
  // The archive keeps 256 kB for undo.
  expect(Math.max(...sizes)).toBeLessThan(350_000);
  // Of ten rankings the numbers are kept, and what was printed of the last.
  expect(readdirSync(join(cache, 'routewright/answers'))).toHaveLength(sizes.length + 1);
  expect(sizeOf(cache)).toBeLessThan(1_000_000);
  // Undo knows the way back.
  expect((await desk.log('--undo')).out).toContain('2026-10-07T18:00');
});
