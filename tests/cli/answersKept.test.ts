import { execFile } from 'node:child_process';
import { copyFileSync, readdirSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { execPath } from 'node:process';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answersFolder, keptAnswer } from '../../server/src/disk/answerCache.ts';
import { buildCommand, type BuiltCommand } from '../helpers/builtCommand.ts';
import { folderOf, practice, route, routewright, type Said, samples } from './place.ts';

describe('the folder of kept answers', () => {
  it.each([
    [{ ROUTEWRIGHT_CACHE_HOME: '/own', XDG_CACHE_HOME: '/x' }, 'linux', '/own/routewright/answers'],
    [{ XDG_CACHE_HOME: '/x' }, 'linux', '/x/routewright/answers'],
    // S: XDG Base Directory Specification 0.8: a path that is not absolute is to be ignored.
    [{ XDG_CACHE_HOME: 'x' }, 'linux', '/home/r/.cache/routewright/answers'],
    [{}, 'darwin', '/home/r/Library/Caches/routewright/answers'],
  ] as const)('of %o on %s is %s', (env, platform, folder) => {
    expect(answersFolder(env, platform, '/home/r')).toBe(folder);
  });
});

describe('a kept answer', () => {
  const answer = {
    seconds: [1.5, NaN, -0],
    by: new Map([['wall-kick', new Float64Array([1, 2])]]),
    none: undefined,
  };

  it('is worked out once for the same input and build, and is the same to the last bit', () => {
    const folder = folderOf({});
    let worked = 0;
    const ask = (build: string, input: unknown): unknown =>
      keptAnswer(folder, build, input, () => (worked++, answer));
    for (let i = 0; i < 3; i++) expect(ask('a', { day: 1 })).toStrictEqual(answer);
    expect(worked).toBe(1);
    ask('b', { day: 1 });
    ask('a', { day: 2 });
    expect(worked).toBe(3);
  });

  it.each([
    ['cut off', (file: string) => truncateSync(file, 40)],
    ['empty', (file: string) => truncateSync(file, 0)],
    ['of other bytes', (file: string) => writeFileSync(file, Buffer.from(readFileSync(file)).fill(7, 50))],
    ['text', (file: string) => writeFileSync(file, '[]')],
  ])('that is %s is worked out again, and is whole afterwards', (_, damage) => {
    const folder = folderOf({});
    let worked = 0;
    const ask = (): unknown => keptAnswer(folder, 'a', 1, () => (worked++, answer));
    ask();
    damage(join(folder, readdirSync(folder)[0]!));
    expect(ask()).toStrictEqual(answer);
    expect(ask()).toStrictEqual(answer);
    expect(worked).toBe(2);
  });

  it('cannot be kept where no folder can be made, or where it is no plain data, and is given all the same', () => {
    const file = join(folderOf({ file: '' }), 'file');
    expect(keptAnswer(file, 'a', 1, () => 2)).toBe(2);
    const folder = folderOf({});
    const one = () => 1;
    expect(keptAnswer(folder, 'a', 1, () => one)).toBe(one);
    expect(keptAnswer(folder, 'a', one, () => 3)).toBe(3);
    expect(readdirSync(folder)).toEqual([]);
  });

  it('is forgotten, the oldest first, so that the folder does not grow', () => {
    const folder = folderOf({});
    for (let i = 0; i < 200; i++) keptAnswer(folder, 'a', i, () => i);
    expect(readdirSync(folder).length).toBe(64);
  });
});

describe('answers of one folder', () => {
  const own = 'lanternfall.route.yaml';
  const other = 'other.route.yaml';

  it('are kept apart where it was asked otherwise, of other files, or of another day', async () => {
    const home = folderOf({});
    const folder = folderOf({
      [own]: route,
      'lanternfall.practice.yaml': practice,
      'lanternfall.week.yaml': 'route: lanternfall.route.yaml\ndays: { mon: 60, wed: 60 }\n',
      [other]: route.replace('saves: 3.2', 'saves: 2.2'),
    });
    const last = ['--as-of', 'last'];
    const asked = [
      ['odds', own, '--target', '3:40', ...last],
      ['odds', own, '--target', '3:39', ...last],
      ['odds', own, '--target', '3:40', '--with', 'crate-vault', ...last],
      ['odds', own, '--target', '3:40', '--hours', '9', ...last],
      ['odds', own, '--target', '3:40', '--hours', '30', ...last],
      ['review', own, ...last],
      ['review', own, '--as-of', '2026-10-30'],
      ['review', own, '--color', 'always', ...last],
      ['compare', own, other, ...last],
      ['compare', other, own, ...last],
      ['compare', own, other, '--with', 'crate-vault', ...last],
      ['compare', own, other, '--target', '3:40', ...last],
      ['rank', own, '--explain', 'crate-vault', ...last],
      ['rank', own, '--explain', 'crate-vault', '--cycle', 'crate-vault=5', ...last],
      ['rank', own, '--explain', 'wall-kick', ...last],
    ];
    const ask = (args: readonly string[], cache: string, columns: string): Promise<Said> =>
      routewright(folder, args, { env: { ROUTEWRIGHT_CACHE_HOME: cache, COLUMNS: columns } });
    const answers: string[] = [];
    // For another width, what is kept is laid out again.
    for (const columns of ['80', '40'])
      for (const args of asked) {
        const kept = await ask(args, home, columns);
        const anew = await ask(args, '/dev/null', columns);
        expect([args, kept]).toEqual([args, { ...anew, code: 0 }]);
        answers.push(kept.out);
      }
    expect(new Set(answers).size).toBe(answers.length);
  });
});

describe('the built command', () => {
  let built: BuiltCommand;
  beforeAll(async () => {
    built = await buildCommand();
  });
  afterAll(() => built.remove());

  const run = (args: readonly string[], env: Record<string, string>, cwd: string): Promise<string> =>
    new Promise((resolve, reject) => {
      execFile(
        execPath,
        [built.script, ...args],
        { cwd, env: { ...built.env, ...env } },
        (error, out, err) => (error ? reject(new Error(err)) : resolve(out + err)),
      );
    });

  // What the model worked out, and the printed answer; odds and explanations keep the data of their picture besides.
  it.each([
    [2, 'rank'],
    [2, 'plan --json'],
    [2, 'tonight'],
    [2, 'check'],
    [2, 'progress'],
    [2, 'review'],
    [3, 'odds --target 45:00'],
    [2, 'odds --target 45:00 --hours 20 --json'],
    [3, 'rank --explain tide-skip --numbers'],
    [1, 'compare lanternfall.route.yaml lanternfall.route.yaml'],
  ] as const)(
    'keeps %i for %s, and prints the same bytes with it, with a damaged one, and with none',
    async (count, words) => {
      const argv = words.split(' ');
      const home = folderOf({});
      const args = [...argv, '--as-of', 'last'];
      const nowhere = await run(args, { ROUTEWRIGHT_CACHE_HOME: '/dev/null' }, samples);
      const first = await run(args, { ROUTEWRIGHT_CACHE_HOME: home }, samples);
      const answers = join(home, 'routewright/answers');
      const kept = readdirSync(answers).sort();
      expect(kept).toHaveLength(count);
      // Nobody else may read what follows from a private log.
      for (const name of kept)
        if (process.platform !== 'win32') expect(statSync(join(answers, name)).mode & 0o077).toBe(0);
      const again = await run(args, { ROUTEWRIGHT_CACHE_HOME: home }, samples);
      for (const name of kept) writeFileSync(join(answers, name), 'damaged');
      const afterDamage = await run(args, { ROUTEWRIGHT_CACHE_HOME: home }, samples);
      expect([first, again, afterDamage]).toEqual([nowhere, nowhere, nowhere]);
      expect(readdirSync(answers).sort()).toEqual(kept);
    },
  );

  it('answers anew once something was logged', async () => {
    const home = folderOf({});
    const folder = folderOf({});
    for (const name of readdirSync(samples).filter((one) => one.startsWith('lanternfall.')))
      copyFileSync(join(samples, name), join(folder, name));
    const env = { ROUTEWRIGHT_CACHE_HOME: home };
    const answers = (): number => readdirSync(join(home, 'routewright/answers')).length;
    await run(['rank'], env, folder);
    // What the model worked out, and what was printed.
    expect(answers()).toBe(2);
    await run(['log', 'wall-kick', '--landed', '3', '--tries', '9'], env, folder);
    await run(['rank'], env, folder);
    // What the model worked out is kept besides the earlier one; the printed answer takes the place of the earlier one.
    expect(answers()).toBe(3);
  });
});
