import { existsSync, mkdirSync, readdirSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  inventedBlocks,
  poolRepository,
  poolRouteName,
  practiceText,
  runnerFolders,
} from '../helpers/poolRunners.ts';
import { folderOf, routewright, textOf } from './place.ts';
import { poolName, poolOf, run } from './poolCommand.ts';

const habits = { nights: 6 };

/** A folder with the route and four runners. */
function fourRunners(): string {
  return folderOf(poolRepository([1, 2, 3, 4], habits));
}

function put(folder: string, files: Readonly<Record<string, string>>): void {
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
}

/** Adds runners to a folder. */
function comeIn(folder: string, ...seeds: readonly number[]): void {
  put(folder, runnerFolders(seeds, habits));
}

const isLeft = (name = poolName): string => `${name} is left as it is: `;

describe('--write', () => {
  test('writes the pool beside the route, and says so', async () => {
    const folder = fourRunners();
    const { code, out, err } = await run(folder, '.', '--write');
    expect(code).toBe(0);
    expect(err).toMatch(/^lanternfall\.pool\.yaml written: 4 runners, \d techniques\.\n$/);
    expect(out).not.toContain('Nothing is written yet');
    expect(textOf(folder, poolName)).toContain('\nroute: lanternfall.route.yaml\n');
    expect(readdirSync(folder).sort()).toEqual([poolName, poolRouteName, 'runners']);
    const json = await run(folderOf(poolRepository([1, 2, 3, 4], habits)), '.', '--write', '--json');
    expect(JSON.parse(json.out)).toMatchObject({ file: poolName, runners: 4 });
  });

  test('finds the route above the folders of the runners', async () => {
    const folder = folderOf({ '.git/HEAD': '', ...poolRepository([1, 2, 3, 4], habits) });
    expect((await run(join(folder, 'runners'), '.', '--write')).code).toBe(0);
    expect(existsSync(join(folder, poolName))).toBe(true);
  });

  test('leaves the file as it is where it says this already', async () => {
    const folder = fourRunners();
    await run(folder, '.', '--write');
    const [text, before] = [textOf(folder, poolName), statSync(join(folder, poolName))];
    const { code, err } = await run(folder, 'runners/r3', '.', '--write');
    expect({ code, err }).toEqual({
      code: 0,
      err: 'lanternfall.pool.yaml says this already: it is left as it is.\n',
    });
    expect(textOf(folder, poolName)).toBe(text);
    expect(statSync(join(folder, poolName)).mtimeMs).toBe(before.mtimeMs);
  });

  test('replaces an earlier version, and says who is not in it any more', async () => {
    const folder = fourRunners();
    await run(folder, '.', '--write');
    comeIn(folder, 5, 6, 7);
    const more = await run(folder, '.', '--write');
    expect(more).toMatchObject({ code: 0, err: expect.stringContaining('written: 7 runners') as string });
    expect(more.err.split('\n')).toHaveLength(2);
    for (const seed of [1, 2, 3, 4]) rmSync(join(folder, `runners/r${seed}`), { recursive: true });
    const fewer = await run(folder, '.', '--write');
    expect(fewer.err).toContain(
      '4 runners of the file as it was are not in it any more. To keep them, give that file beside the folders, as it was.',
    );
  });

  test('writes nothing where there is nothing to tell', async () => {
    const folder = folderOf(poolRepository([1, 2], habits));
    const { code, err } = await run(folder, '.', '--write');
    expect({ code, err }).toEqual({ code: 1, err: 'Nothing is written: there is nothing to tell.\n' });
    expect(existsSync(join(folder, poolName))).toBe(false);
  });

  test('writes nothing where a log could not be read, and says which', async () => {
    const folder = fourRunners();
    put(folder, { 'runners/r5/lanternfall.practice.yaml': '' });
    writeFileSync(join(folder, 'runners/r5/lanternfall.practice.yaml'), Buffer.from([0xff, 0xfe, 0x41, 0]));
    const { code, err, out } = await run(folder, '.', '--write');
    expect(code).toBe(2);
    expect(err).toContain(
      'runners/r5/lanternfall.practice.yaml: This file is not read: it is not UTF-8 text.',
    );
    expect(err).toContain('lanternfall.pool.yaml is not written: it would lack what could not be read.');
    expect(out).toContain('4 runners and');
    expect(existsSync(join(folder, poolName))).toBe(false);
  });

  test('reads no log that a link brings from outside', async () => {
    const folder = fourRunners();
    const outside = folderOf({ 'a.practice.yaml': practiceText(inventedBlocks(5), { runner: 'Quillon-5' }) });
    mkdirSync(join(folder, 'runners/r5'));
    symlinkSync(join(outside, 'a.practice.yaml'), join(folder, 'runners/r5/lanternfall.practice.yaml'));
    const { code, err } = await run(folder, '.');
    expect(code).toBe(2);
    expect(err).toMatch(
      /^runners\/r5\/lanternfall\.practice\.yaml: This file is not read: it leads out of the folder/,
    );
  });
});

describe('--output', () => {
  test('writes another file, with the route as it lies from there', async () => {
    const folder = fourRunners();
    expect((await run(folder, '.', '--output', 'ours.pool.yaml')).code).toBe(0);
    mkdirSync(join(folder, 'pools'));
    expect((await run(folder, '.', '--output', 'pools/ours.pool.yaml')).code).toBe(0);
    expect(textOf(folder, 'pools/ours.pool.yaml')).toContain('\nroute: "../lanternfall.route.yaml"\n');
  });

  test('never writes the name of a folder, which might be somebody’s', async () => {
    const folder = folderOf({
      ...Object.fromEntries(
        Object.entries(poolRepository([1, 2, 3, 4], habits)).map(([name, text]) => [
          `of-quillon/${name}`,
          text,
        ]),
      ),
      'sent/.keep': '',
    });
    expect((await run(folder, 'of-quillon', '--output', 'sent/ours.pool.yaml')).code).toBe(0);
    expect(textOf(folder, 'sent/ours.pool.yaml')).toContain('\nroute: lanternfall.route.yaml\n');
    expect(textOf(folder, 'sent/ours.pool.yaml')).not.toContain('quillon');
  });

  test('is the name of a pool, in a folder that there is', async () => {
    const folder = fourRunners();
    expect((await run(folder, '.', '--output', 'ours.yaml')).err).toBe(
      '--output needs a name that ends in .pool.yaml, not ours.yaml.\n',
    );
    expect(await run(folder, '.', '--output', 'nowhere/ours.pool.yaml')).toMatchObject({
      code: 2,
      err: expect.stringMatching(/^nowhere\/ours\.pool\.yaml cannot be written: /) as string,
    });
  });
});

describe('a file that stands there', () => {
  test.each([
    [
      'the pool of another route',
      (text: string) => text.replace(/^route: .*$/m, 'route: other.route.yaml'),
      'it is the pool of another route, other.route.yaml.',
    ],
    [
      'a pool with mistakes',
      (text: string) => text.replace('techniques:', 'techniqes:'),
      'there are mistakes in it',
    ],
    ['no pool', () => 'A letter.\n', 'there are mistakes in it'],
  ])('is left as it is where it is %s', async (_, other, why) => {
    const folder = fourRunners();
    const text = other(await poolOf(folder, '.'));
    rmSync(join(folder, 'made.pool.yaml'));
    put(folder, { [poolName]: text });
    const { code, err } = await run(folder, '.', '--write', '--anyway');
    expect(code).toBe(2);
    expect(err).toContain(`${isLeft()}${why}`);
    expect(textOf(folder, poolName)).toBe(text);
  });

  test('is left as it is where it is a folder', async () => {
    const folder = fourRunners();
    mkdirSync(join(folder, 'a.pool.yaml'));
    expect((await run(folder, '.', '--output', 'a.pool.yaml')).err).toBe(
      `${isLeft('a.pool.yaml')}it is a folder and not a file of text.\n`,
    );
  });
});

describe('an estimate', () => {
  test('uses the pool from then on', async () => {
    const folder = fourRunners();
    const rank = () => routewright(folder, ['rank', '.', '--runner', 'Quillon-1', '--all', '--json']);
    const before = await rank();
    expect((await run(folder, '.', '--write')).code).toBe(0);
    const after = await rank();
    expect({ code: after.code, err: after.err }).toEqual({ code: 0, err: '' });
    expect(after.out).not.toBe(before.out);
  });

  test('never counts a runner’s own practice twice: the pool of all is to each of them the pool of the others', async () => {
    const alike = { ...habits, techniques: ['crate-vault', 'wall-kick'] };
    const [ofAll, ofOthers] = [
      folderOf(poolRepository([1, 2, 3, 4], alike)),
      folderOf(poolRepository([1, 2, 3, 4], alike)),
    ];
    expect((await run(ofAll, '.', '--write')).code).toBe(0);
    expect(
      (await run(ofOthers, 'runners/r2', 'runners/r3', 'runners/r4', '--route', poolRouteName, '--write'))
        .code,
    ).toBe(0);
    const ranked = async (folder: string) =>
      (await routewright(folder, ['rank', '.', '--runner', 'Quillon-1', '--all', '--json'])).out;
    const pools = [ofAll, ofOthers].map((folder) => textOf(folder, poolName));
    expect(pools[0]).not.toBe(pools[1]);
    expect(await ranked(ofAll)).toBe(await ranked(ofOthers));
  });
});
