import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  inventedBlocks,
  poolRepository,
  poolRouteName,
  poolTechniques,
  practiceText,
  runnerFolders,
} from '../helpers/poolRunners.ts';
import { folderOf, textOf } from './place.ts';
import { poolName, poolOf, run } from './poolCommand.ts';

const habits = { nights: 6 };

function put(folder: string, files: Readonly<Record<string, string>>): void {
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
}

describe('the file of a pool', () => {
  const numbers = String.raw`\[-?\d+(, -?\d+)*\]`;
  const ids = Object.keys(poolTechniques).join('|');
  /** Every line that there is. Digests look like words; everything else is fixed, a technique of the route, or numbers of the sum. */
  const lines = [
    /^# What the practice of \d+ runners says together about this route's techniques, without their logs\.$/,
    /^# Made by `routewright pool`: make it again rather than edit it\.$/,
    /^route: lanternfall\.route\.yaml$/,
    /^model: 1 # version of the curves that the numbers belong to$/,
    /^day: 2026-11-30$/,
    /^runners: \["[0-9a-f]{12}"(, "[0-9a-f]{12}")*\]$/,
    /^techniques:$/,
    new RegExp(`^  (${ids}): # rated \\d+, comes like \\d+\\.\\d$`),
    /^ {4}runners: \d+$/,
    /^ {4}difficulty: \d+$/,
    /^ {4}(midway|loss|suddenness|ceiling|floor):$/,
    new RegExp(`^ {6}(quarter|half|three_quarters|nearly_all): ${numbers}$`),
    /^$/,
  ];

  test('has no line for a name, a day of practice, a time or a count of one person', async () => {
    const folder = folderOf({
      ...poolRepository([1, 2, 3, 4, 5], habits),
      'runners/r1/lanternfall.week.yaml': `route: ../../${poolRouteName}\nrunner: Quillon-1\nnotes: hello from Quillon\ndays: { mon: 30 }\n`,
      'runners/r1/lanternfall.runs.yaml': `route: ../../${poolRouteName}\nrunner: Quillon-1\nruns:\n  - { start: 2026-10-07T20:00, total: "3:42.4", tried: { crate-vault: [1, 2] } }\n`,
    });
    const pool = await poolOf(folder, '.');
    for (const line of pool.split('\n'))
      expect(
        lines.some((form) => form.test(line)),
        line,
      ).toBe(true);
    for (const word of [/quillon/i, /2026-(09|10)/, /19:\d\d/, /r1\b/, /hello/, /3:42/])
      expect(pool).not.toMatch(word);
  });

  test('says of no technique anything that fewer than three practised, and counts nobody for more than 80', async () => {
    const folder = folderOf({
      ...poolRepository([1, 2, 3, 4], { nights: 20 }),
      ...runnerFolders([5, 6], { nights: 30, techniques: ['tide-skip'] }),
    });
    const pool = await poolOf(folder, '.');
    const techniques = [...pool.matchAll(/^ {2}[\w-]+: #.*\n {4}runners: (\d+)\n((?: {4}.*\n)+)/gm)];
    expect(techniques.length).toBeGreaterThan(2);
    for (const [, count, text] of techniques) {
      expect(Number(count)).toBeGreaterThanOrEqual(3);
      for (const [, list] of text!.matchAll(/: \[(.*)\]$/gm))
        for (const number of list!.split(', ').map(Number)) {
          expect(Number.isInteger(number)).toBe(true);
          expect(Math.abs(number)).toBeLessThanOrEqual(80 * Number(count));
        }
    }
  });
});

describe('two versions of a pool', () => {
  /** A folder with a pool of four runners, of the 30th of November. */
  async function withPool(): Promise<string> {
    const folder = folderOf(poolRepository([1, 2, 3, 4], habits));
    expect((await run(folder, '.', '--write')).code).toBe(0);
    return folder;
  }

  /** Expects that a change is not written, for so many runners, and that it is with `--anyway`. */
  async function expectRefused(folder: string, between: number, ...argv: string[]): Promise<void> {
    const before = textOf(folder, poolName);
    const { code, out, err } = await run(folder, '.', '--write', ...argv);
    const [make, whose] =
      between === 1
        ? ['1 runner makes', "that runner's numbers"]
        : ['2 runners make', 'the sum of their numbers'];
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toBe(
      `${make} the whole difference between ${poolName} and the file as it is now: whoever has both can work out ${whose}. ` +
        'Wait until at least 3 runners have joined, left or practised since. --anyway writes it all the same.\n',
    );
    expect(textOf(folder, poolName)).toBe(before);
    const anyway = await run(folder, '.', '--write', '--anyway', ...argv);
    expect(anyway.code).toBe(0);
    expect(anyway.err).toContain(`${make} the whole difference`);
    expect(anyway.err).toContain('It is written all the same, as --anyway says.');
    expect(textOf(folder, poolName)).not.toBe(before);
  }

  test('are not written where one runner joined, or two', async () => {
    const folder = await withPool();
    put(folder, runnerFolders([5], habits));
    await expectRefused(folder, 1);
    put(folder, runnerFolders([6, 7], habits));
    await expectRefused(folder, 2);
  });

  test('are not written where one runner left, or one left and one joined', async () => {
    const folder = await withPool();
    rmSync(join(folder, 'runners/r4'), { recursive: true });
    await expectRefused(folder, 1);
    put(folder, runnerFolders([5], habits));
    rmSync(join(folder, 'runners/r3'), { recursive: true });
    await expectRefused(folder, 2);
  });

  test('are not written where one of the runners practised since', async () => {
    const folder = await withPool();
    const later = { technique: 'crate-vault', day: 100, minutes: 20, landed: 50, tries: 80 };
    put(folder, {
      'runners/r1/lanternfall.practice.yaml': practiceText([...inventedBlocks(1, habits), later], {
        runner: 'Quillon-1',
      }),
    });
    await expectRefused(folder, 1, '--as-of', '2027-01-01');
  });

  test('are written where three runners make the difference', async () => {
    const folder = await withPool();
    put(folder, runnerFolders([5, 6, 7], habits));
    const { code, err } = await run(folder, '.', '--write');
    expect(code).toBe(0);
    expect(err).toMatch(/^lanternfall\.pool\.yaml written: 7 runners/);
  });

  test('are not written under another name either, beside the first or from it', async () => {
    const folder = await withPool();
    put(folder, runnerFolders([5], habits));
    for (const given of [['.'], ['.', poolName]]) {
      const { code, err } = await run(folder, ...given, '--output', 'new.pool.yaml');
      expect(code).toBe(2);
      expect(err).toContain(`1 runner makes the whole difference between new.pool.yaml and ${poolName}: `);
    }
    const elsewhere = folderOf({ [poolName]: textOf(folder, poolName) });
    const { err } = await run(
      folder,
      'runners',
      join(elsewhere, poolName),
      '--route',
      poolRouteName,
      '--output',
      join(elsewhere, 'b.pool.yaml'),
    );
    expect(err).toContain('1 runner makes the whole difference');
  });

  test('are written where the numbers of the first belong to other curves: they cannot be subtracted', async () => {
    const folder = await withPool();
    put(folder, {
      [poolName]: textOf(folder, poolName).replace('model: 1 ', 'model: 2 '),
      ...runnerFolders([5], habits),
    });
    expect((await run(folder, '.', '--write')).code).toBe(0);
  });
});
