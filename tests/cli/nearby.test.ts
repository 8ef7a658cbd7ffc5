import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { env, execPath, platform } from 'node:process';
import { setTimeout as wait } from 'node:timers/promises';
import { beforeAll, describe, expect, test } from 'vitest';
import { nearbyFiles } from '../../server/src/cli/project/nearbyFiles.ts';
import { logOfSettings, settingsFile } from '../../server/src/cli/log/settings.ts';
import { programOf } from '../helpers/commandLine.ts';
import { folderOf, practice, route, routewright, textOf } from './place.ts';

const own = { 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice };
/** The same files in a folder below. */
const below = (folder: string) =>
  Object.fromEntries(Object.entries(own).map(([name, text]) => [`${folder}/${name}`, text]));
const repository = { '.git/HEAD': 'ref: refs/heads/main\n' };
const namesOf = async (cwd: string) =>
  (await nearbyFiles(cwd)).paths.map((path) => path.slice(path.lastIndexOf('/') + 1));
const both = ['lanternfall.practice.yaml', 'lanternfall.route.yaml'];

describe('without a file', () => {
  test('a command looks some levels down', async () => {
    expect(await namesOf(folderOf(below('games/lanternfall/any')))).toEqual(both);
    expect(await namesOf(folderOf(below('a/b/c/d/e/f/g/h')))).toEqual([]);
    expect(await namesOf(folderOf(below('node_modules/a')))).toEqual([]);
  });

  test('and up to the root of the repository, the nearest route first', async () => {
    const folder = folderOf({
      ...repository,
      ...own,
      'videos/old/note.txt': '',
      'other/x.route.yaml': route,
    });
    expect((await nearbyFiles(join(folder, 'videos/old'))).folder).toBe(folder);
    expect(await namesOf(join(folder, 'other'))).toEqual(['x.route.yaml']);
    const { code, out } = await routewright(join(folder, 'videos/old'), ['check', '--json']);
    expect(code).toBe(0);
    expect(out).not.toContain('/tmp');
  });

  test('but above no repository', async () => {
    const folder = folderOf({ ...own, 'repo/.git/HEAD': '', 'repo/sub/a.txt': '', 'plain/a.txt': '' });
    expect(await namesOf(join(folder, 'repo/sub'))).toEqual([]);
    expect(await namesOf(join(folder, 'plain'))).toEqual([]);
    const { code, err } = await routewright(join(folder, 'plain'), ['rank']);
    expect(code).toBe(2);
    expect(err).toContain('There is no route in this folder.');
  });

  test('a log alone is about the current folder', async () => {
    const folder = folderOf({ ...repository, 'sub/lanternfall.practice.yaml': practice });
    expect((await nearbyFiles(join(folder, 'sub'))).folder).toBe(join(folder, 'sub'));
    expect(await namesOf(join(folder, 'sub'))).toEqual(['lanternfall.practice.yaml']);
  });

  test('a search that meets a limit says so, and its answer does not count as whole', async () => {
    const folder = folderOf({ ...below('z') });
    for (let i = 0; i < 30; i++) mkdirSync(join(folder, `a${i}`));
    const found = await nearbyFiles(folder, { levels: 3, folders: 10, milliseconds: 60_000 });
    expect(found).toEqual({ folder, paths: [], cutShort: true });
    const whole = await nearbyFiles(folder, { levels: 3, folders: 32, milliseconds: 60_000 });
    expect(whole.cutShort).toBe(false);
    expect(whole.paths).toHaveLength(2);

    for (let i = 0; i < 2_100; i++) mkdirSync(join(folder, `b${i}`));
    const { code, err } = await routewright(folder, ['check']);
    expect(code).toBe(2);
    expect(err).toContain('There are too many folders near here to look through all of them');
  });
});

describe('where entries go', () => {
  const attempt = ['log', 'crate-vault', '--landed'];
  const two = {
    'a.route.yaml': route,
    'a.practice.yaml': 'route: a.route.yaml\nsessions: []\n',
    'b.route.yaml': route,
    'b.practice.yaml': 'route: b.route.yaml\nsessions: []\n',
  };
  const block = (...more: string[]) => [
    ...['log', 'crate-vault', '--landed', '3', '--tries', '4', '--minutes', '5'],
    ...more,
  ];

  test('to the log named last in this folder, where there are several', async () => {
    const folder = folderOf(two);
    const place = { env: { ROUTEWRIGHT_STATE_HOME: folderOf({}), XDG_CONFIG_HOME: folderOf({}) } };
    const first = await routewright(folder, block(), place);
    expect(first.code).toBe(2);
    expect(first.err).toContain('There are several routes');
    for (const [named, other] of [
      ['b', 'a'],
      ['a', 'b'],
    ]) {
      const before = textOf(folder, `${other}.practice.yaml`);
      expect((await routewright(folder, block(`${named}.practice.yaml`), place)).code).toBe(0);
      const once = textOf(folder, `${named}.practice.yaml`);
      expect((await routewright(folder, block('--at', '2026-10-07T19:30'), place)).code).toBe(0);
      expect(textOf(folder, `${named}.practice.yaml`).length).toBeGreaterThan(once.length);
      expect(textOf(folder, `${other}.practice.yaml`)).toBe(before);
    }
    // What was named is gone: then it has to be named again.
    rmSync(join(folder, 'a.practice.yaml'));
    expect((await routewright(folder, block(), place)).code).toBe(2);
  });

  test('a log elsewhere is not remembered for this folder', async () => {
    const [folder, other] = [folderOf(own), folderOf(own)];
    const place = { env: { ROUTEWRIGHT_STATE_HOME: folderOf({}), XDG_CONFIG_HOME: folderOf({}) } };
    expect((await routewright(folder, block('--to', other), place)).code).toBe(0);
    expect(textOf(other, 'lanternfall.practice.yaml')).toContain('landed: [3, 4]');
    expect(textOf(folder, 'lanternfall.practice.yaml')).toBe(practice);
    expect((await routewright(folder, block(), place)).code).toBe(0);
    expect(textOf(folder, 'lanternfall.practice.yaml')).toContain('landed: [3, 4]');
  });

  test('from a folder without a route to the one that the settings name, as long as they do', async () => {
    const [empty, home, other] = [folderOf({}), folderOf(own), folderOf(own)];
    const config = folderOf({ 'routewright/settings.yaml': `log: ${home}/lanternfall.practice.yaml\n` });
    const place = { env: { ROUTEWRIGHT_STATE_HOME: folderOf({}), XDG_CONFIG_HOME: config } };
    for (let i = 0; i < 2; i++) expect((await routewright(empty, attempt, place)).code).toBe(0);
    expect((await routewright(home, ['log'], place)).out).toContain('Crate vault: 2 of 2 landed');

    await wait(20);
    writeFileSync(join(config, 'routewright/settings.yaml'), `log: ${other}\n`);
    expect((await routewright(empty, attempt, place)).code).toBe(0);
    expect((await routewright(other, ['log'], place)).out).toContain('Crate vault: 1 of 1 landed');

    // A route of its own comes first.
    for (const [name, text] of Object.entries(own)) writeFileSync(join(empty, name), text);
    expect((await routewright(empty, attempt, place)).code).toBe(0);
    expect((await routewright(empty, ['log'], place)).out).toContain('Crate vault: 1 of 1 landed');
  });

  test('without a route and a setting the answer says how to name a log', async () => {
    const place = { env: { ROUTEWRIGHT_STATE_HOME: folderOf({}), XDG_CONFIG_HOME: folderOf({}) } };
    const { code, err } = await routewright(folderOf({}), attempt, place);
    expect(code).toBe(2);
    expect(err).toContain('--to FILE, or as log: FILE in ');
    expect(err).toContain('settings.yaml');
  });

  test.each([
    ['log: [a]\n', 'log is not the path of a file'],
    ['logs: a\n', 'has a key that means nothing: logs'],
    ['- a\n', 'cannot be read as settings'],
    ['log: gone.practice.yaml\n', 'gone.practice.yaml'],
  ])('settings that say %j are an error', async (text, sentence) => {
    const config = folderOf({ 'routewright/settings.yaml': text });
    const place = { env: { ROUTEWRIGHT_STATE_HOME: folderOf({}), XDG_CONFIG_HOME: config } };
    const { code, err } = await routewright(folderOf({}), attempt, place);
    expect(code).toBe(2);
    expect(err).toContain(sentence);
  });

  test('the settings stand where each system keeps them', async () => {
    // XDG Base Directory Specification 0.8; Windows: KNOWNFOLDERID, FOLDERID_RoamingAppData (from memory).
    expect(settingsFile({}, 'linux', '/home/r')).toBe('/home/r/.config/routewright/settings.yaml');
    expect(settingsFile({ XDG_CONFIG_HOME: '/c' }, 'linux', '/home/r')).toBe('/c/routewright/settings.yaml');
    expect(settingsFile({ XDG_CONFIG_HOME: 'c' }, 'linux', '/home/r')).toBe(
      '/home/r/.config/routewright/settings.yaml',
    );
    expect(settingsFile({}, 'darwin', '/Users/r')).toContain('/Users/r/Library/Application Support/');
    const config = folderOf({ 's.yaml': 'log: ~/a.practice.yaml\n', 'empty.yaml': '' });
    expect(await logOfSettings(join(config, 's.yaml'), '/home/r')).toBe('/home/r/a.practice.yaml');
    expect(await logOfSettings(join(config, 'empty.yaml'))).toBe(undefined);
    expect(await logOfSettings(join(config, 'none.yaml'))).toBe(undefined);
  });
});

describe.skipIf(platform === 'win32')('the program', () => {
  let program: string;
  beforeAll(async () => {
    program = await programOf('server/src/cli.ts', folderOf({}));
  });

  test('answers a hotkey in the root of the disk within two seconds', () => {
    const home = folderOf({});
    const place = { PATH: env['PATH'], HOME: home, ROUTEWRIGHT_STATE_HOME: home, LC_ALL: 'C.UTF-8' };
    const answer = (): string =>
      execFileSync(
        '/bin/sh',
        ['-c', `{ '${execPath}' '${program}' log crate-vault --landed; echo "exit $?"; times; } 2>&1`],
        { cwd: '/', env: place, encoding: 'utf8' },
      );
    const out = answer();
    expect(out).toContain('Nothing was logged. Name a log with --to FILE');
    expect(out).toContain('There is no route in this folder.');
    expect(out).toContain('exit 2');
    // The second line of `times` (POSIX) has the processor time of the programs that the shell ran, which other work on the
    // machine does not change: user, then system.
    const [, user = '', system = ''] = /\n(\S+) (\S+)\n?$/.exec(out) ?? [];
    const seconds = [user, system].map((time) => {
      const [, minutes, rest] = /^(\d+)m([\d.]+)s$/.exec(time) ?? [];
      return Number(minutes) * 60 + Number(rest);
    });
    expect(seconds[0]! + seconds[1]!).toBeLessThan(2);
  });

  test('ends at once when it is interrupted while it reads', async () => {
    const folder = folderOf({});
    for (let i = 0; i < 1_000; i++) writeFileSync(join(folder, `r${i}.route.yaml`), route);
    const child = spawn(execPath, [program, 'check'], { cwd: folder, env: { ...env, HOME: folder } });
    await wait(300);
    const ended = new Promise<NodeJS.Signals | null>((resolve) =>
      child.on('close', (_, signal) => resolve(signal)),
    );
    expect(child.exitCode).toBe(null);
    child.kill('SIGINT');
    expect(await ended).toBe('SIGINT');
  });
});
