import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  practiceText,
  inventedBlocks,
  poolRepository,
  poolRouteName,
  poolRouteText,
  runnerFolders,
} from '../helpers/poolRunners.ts';
import { folderOf, textOf } from './place.ts';
import { answer, poolName, poolOf, run, techniquesOf } from './poolCommand.ts';

const six = [1, 2, 3, 4, 5, 6];

describe('a pool of logs', () => {
  test('tells for people and for programs how hard each technique came to how many', async () => {
    const folder = folderOf(poolRepository(six));
    const said = await answer(folder, '.');
    expect(said).toMatchObject({
      asOf: '2026-11-30',
      route: poolRouteName,
      file: null,
      runners: 6,
      notCounted: [],
    });
    expect(said.techniques.length).toBeGreaterThanOrEqual(4);
    for (const { runners, comesLike } of said.techniques) {
      expect(runners).toBeGreaterThanOrEqual(3);
      expect(comesLike).toBeGreaterThanOrEqual(1);
      expect(comesLike).toBeLessThanOrEqual(10);
    }
    const { out, code } = await run(folder, '.');
    expect(code).toBe(0);
    expect(out).toContain('6 runners and');
    expect(out).toMatch(/^crate-vault +\d +4 +\d\.\d$/m);
    expect(out).toContain(`--write writes ${poolName} beside the route`);
    expect(existsSync(join(folder, poolName))).toBe(false);
  });

  test('is the same from each runner’s folder and from the folder of all', async () => {
    const folder = folderOf({ '.git/HEAD': '', ...poolRepository(six) });
    const whole = await poolOf(folder, '.');
    expect(await poolOf(folder, ...six.map((seed) => `runners/r${seed}`))).toBe(whole);
    expect(await poolOf(folder, 'runners/r3', '.', 'runners')).toBe(whole);
    expect(await poolOf(folder)).toBe(whole);
  });

  test('has the logs of several checkouts of the route, where nobody is named', async () => {
    const checkouts = Object.fromEntries(
      six.flatMap((seed) => [
        [`of-${seed}/${poolRouteName}`, poolRouteText],
        [
          `of-${seed}/lanternfall.practice.yaml`,
          practiceText(inventedBlocks(seed), { route: poolRouteName }),
        ],
      ]),
    );
    const folder = folderOf(checkouts);
    const places = six.map((seed) => `of-${seed}`);
    const pool = await poolOf(folder, ...places);
    expect(await poolOf(folder, ...places.toReversed())).toBe(pool);
    const other = folderOf({ '.git/HEAD': '', ...poolRepository(six) });
    expect(techniquesOf(await poolOf(other, '.'))).toBe(techniquesOf(pool));
    // Beside which of them it is to be written, nobody can say.
    const { code, err } = await run(folder, ...places, '--write');
    expect(code).toBe(2);
    expect(err).toContain(
      'There are several copies of lanternfall.route.yaml. Say beside which one to write: --route of-1/',
    );
    expect((await run(folder, ...places, '--write', '--route', `of-2/${poolRouteName}`)).code).toBe(0);
    expect(textOf(folder, `of-2/${poolName}`)).toBe(pool);
  });

  test('leaves out techniques of fewer than three runners, or of as many as are wanted', async () => {
    const folder = folderOf({
      ...poolRepository([1, 2], { nights: 6, techniques: ['crate-vault', 'wall-kick'] }),
      ...runnerFolders([3], { nights: 6, techniques: ['crate-vault'] }),
    });
    const { techniques, leftOut, runners } = await answer(folder, '.');
    expect(runners).toBe(3);
    expect(techniques.map(({ technique }) => technique)).toEqual(['crate-vault']);
    expect(leftOut).toEqual([
      {
        technique: 'wall-kick',
        runners: 2,
        reason: '2 runners practised it, and nothing is told of fewer than 3.',
      },
    ]);
    const people = await run(folder, '.');
    expect(people.out).toContain('Practised by too few runners to be told of: wall-kick (2).');
    const four = await run(folder, '.', '--min-runners', '4');
    expect(four.code).toBe(1);
    expect(four.out).toContain('There is nothing to tell yet, up to 2026-11-30.');
    for (const few of ['2', '0', '-1', '3.5', 'x', '100000'])
      expect(await run(folder, '.', `--min-runners=${few}`), few).toMatchObject({
        code: 2,
        err: expect.stringContaining('--min-runners needs a whole number from 3 to') as string,
      });
  });

  test('names nobody in the file of whom nothing is told', async () => {
    const folder = folderOf({
      ...poolRepository([1, 2, 3], { nights: 6, techniques: ['crate-vault'] }),
      ...runnerFolders([4], { nights: 6, techniques: ['wall-kick'] }),
    });
    const { runners, notCounted } = await answer(folder, '.');
    expect(runners).toBe(3);
    expect(notCounted).toEqual([
      {
        source: 'runners/r4/lanternfall.practice.yaml',
        reason: expect.stringContaining('Nothing of this runner is told') as string,
      },
    ]);
    expect((await poolOf(folder, '.')).match(/^runners: .*$/m)![0].match(/"/g)).toHaveLength(6);
  });

  test('does not count who logged fewer than five entries', async () => {
    const folder = folderOf(poolRepository(six));
    writeFileSync(
      join(folder, 'runners/r6/lanternfall.practice.yaml'),
      practiceText(inventedBlocks(6).slice(0, 4), { runner: 'Quillon-6' }),
    );
    const { runners, notCounted } = await answer(folder, '.');
    expect(runners).toBe(5);
    expect(notCounted).toEqual([
      {
        source: 'runners/r6/lanternfall.practice.yaml',
        reason: 'Fewer than 5 entries of practice are logged.',
      },
    ]);
  });

  test('counts what was logged up to a day', async () => {
    const folder = folderOf(poolRepository(six));
    const whole = await answer(folder, '.');
    const early = await answer(folder, '.', '--as-of', '2026-09-12');
    expect(early.asOf).toBe('2026-09-12');
    expect(early).not.toEqual({ ...whole, asOf: early.asOf });
    const last = await answer(folder, '.', '--as-of', 'last');
    expect(last.asOf).toMatch(/^2026-(09|10)-\d\d$/);
    // Nothing was logged since.
    expect({ ...last, asOf: '' }).toEqual({ ...whole, asOf: '' });
    expect(await run(folder, '.', '--as-of', '2026-08-01')).toMatchObject({ code: 1 });
  });

  test('knows techniques by their former ids', async () => {
    const folder = folderOf(poolRepository(six));
    const before = await poolOf(folder, '.');
    const renamed = poolRouteText
      .replaceAll('crate-vault', 'box-vault')
      .replace('box-vault: { difficulty: 4,', 'box-vault: { was: [crate-vault], difficulty: 4,');
    writeFileSync(join(folder, poolRouteName), renamed);
    const after = await poolOf(folder, '.');
    expect(after).toBe(before.replaceAll('crate-vault', 'box-vault'));
    // And in a pool that was made before.
    const merged = folderOf({ [poolRouteName]: renamed, 'old.pool.yaml': before });
    expect(techniquesOf(await poolOf(merged, 'old.pool.yaml'))).toBe(techniquesOf(after));
  });
});

describe('who counts', () => {
  test('a copy of a runner’s logs in another folder counts once, by the longer one', async () => {
    const blocks = inventedBlocks(1);
    const shorter = practiceText(blocks.slice(0, -3), { runner: 'Quillon-1' });
    const folder = folderOf({ ...poolRepository(six), 'runners/old/lanternfall.practice.yaml': shorter });
    // The same name in the same copy of the route is the same runner: so this one is in another folder of the route.
    const checkout = folderOf({
      ...poolRepository(six),
      [`checkout/${poolRouteName}`]: poolRouteText,
      'checkout/lanternfall.practice.yaml': shorter.replace(/^route: .*$/m, `route: ${poolRouteName}`),
    });
    const { runners, notCounted } = await answer(checkout, '.');
    expect(runners).toBe(6);
    expect(notCounted).toEqual([
      {
        source: 'checkout/lanternfall.practice.yaml',
        reason:
          'These are the logs of runners/r1/lanternfall.practice.yaml once more: the runner counts once.',
      },
    ]);
    const plain = folderOf(poolRepository(six));
    expect(await poolOf(checkout, '.', '--route', poolRouteName)).toBe(await poolOf(plain, '.'));
    expect((await answer(folder, '.')).runners).toBe(6);
  });

  test('a log that names nobody counts for nobody where others name several', async () => {
    const folder = folderOf({
      ...poolRepository(six),
      'lanternfall.practice.yaml': practiceText(inventedBlocks(9), { route: poolRouteName }),
    });
    const { runners, notCounted } = await answer(folder, '.');
    expect(runners).toBe(6);
    expect(notCounted).toEqual([
      {
        source: 'lanternfall.practice.yaml',
        reason: 'It names no runner, and others here do. Write `runner: NAME` into it.',
      },
    ]);
  });

  test('a log that names no route is said, and one of another route is not looked at', async () => {
    const folder = folderOf({
      ...poolRepository(six),
      'runners/r7/a.practice.yaml': practiceText(inventedBlocks(7), { runner: 'Q' }).replace(
        /^route.*\n/,
        '',
      ),
      'other/other.route.yaml': poolRouteText,
      'other/other.practice.yaml': practiceText(inventedBlocks(8), { route: 'other.route.yaml' }),
    });
    const several = await run(folder, '.');
    expect(several.code).toBe(2);
    expect(several.err).toContain(
      'There are several routes: lanternfall.route.yaml and other/other.route.yaml. Name one:',
    );
    for (const route of [poolRouteName, join(folder, poolRouteName)]) {
      const { runners, notCounted } = await answer(folder, '.', '--route', route);
      expect(runners).toBe(6);
      expect(notCounted).toEqual([{ source: 'runners/r7/a.practice.yaml', reason: 'It names no route.' }]);
    }
    expect((await run(folder, '.', '--route', 'other.route.yaml')).code).toBe(1);
  });

  test('practice counts for every route that shares techniques with the one that it names', async () => {
    const folder = folderOf({
      ...poolRepository(six),
      'short.route.yaml': 'game: Lanternfall\ncategory: short\nextends: lanternfall.route.yaml\n',
      'apart.route.yaml': poolRouteText,
    });
    const { runners, route } = await answer(folder, '.', '--route', 'short.route.yaml');
    expect({ runners, route }).toEqual({ runners: 6, route: 'short.route.yaml' });
    expect((await run(folder, '.', '--route', 'apart.route.yaml')).code).toBe(1);
  });
});

describe('what is said beside the answer', () => {
  test('mistakes in the logs and in the route: what (it concerns|they concern) does not count', async () => {
    const folder = folderOf(poolRepository(six));
    const broken = practiceText(inventedBlocks(2), { runner: 'Quillon-2' });
    writeFileSync(
      join(folder, 'runners/r2/lanternfall.practice.yaml'),
      broken.replace('minutes: ', 'minuts: ').replace('landed: [', 'landed: [x'),
    );
    writeFileSync(join(folder, poolRouteName), `${poolRouteText}nots: hello\n`);
    const { code, err } = await run(folder, '.');
    expect(code).toBe(0);
    expect(err).toMatch(
      /^1 error in lanternfall\.route\.yaml: what it concerns may be missing\. routewright check says where\.\n\d errors? in the logs of 1 runner: what (it concerns|they concern) does not count\. routewright check says where\.\n$/,
    );
  });

  test('a number of threads that there cannot be', async () => {
    const folder = folderOf(poolRepository([1, 2, 3]));
    for (const threads of ['0', '65', 'two'])
      expect((await run(folder, '.', '--threads', threads)).err).toContain(
        `--threads needs a whole number from 1 to 64, not ${threads}.`,
      );
    expect((await run(folder, '.', '--threads', '1')).code).toBe(0);
  });

  test('nothing of a technique’s own name is an id', async () => {
    const named = poolRouteText.replace('crate-vault: {', 'crate-vault: { name: Crate vault,');
    const folder = folderOf({ ...poolRepository(six), [poolRouteName]: named });
    const { out } = await run(folder, '.');
    expect(out).toMatch(/^Crate vault +\d/m);
    expect(out).not.toContain('crate-vault');
  });
});
