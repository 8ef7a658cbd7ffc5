import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  existsSync,
  linkSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
} from 'node:fs';
import { join } from 'node:path';
import { execPath, getuid } from 'node:process';
import { beforeAll, expect, test } from 'vitest';
import { hashOf } from '../../server/src/disk/fileNames.ts';
import { route, routewright, textOf } from '../cli/place.ts';
import { programOf } from '../helpers/commandLine.ts';
import { Desk } from '../helpers/desk.ts';
import { ownFolder } from './place.ts';

const practice = 'lanternfall.practice.yaml';
let command: string;

beforeAll(async () => {
  command = await programOf('server/src/cli.ts', ownFolder());
});

test('other names of a file keep the old text, and that is said', async () => {
  const desk = new Desk();
  const other = join(desk.folder, 'backup');
  linkSync(join(desk.folder, practice), other);
  await desk.log('crate-vault', '--landed');
  expect((await desk.log('--end')).out).toContain(
    `${practice} was written as a new file: its other names (1) keep the old text.`,
  );
  expect(desk.text()).toContain('tape: l ');
  expect(readFileSync(other, 'utf8')).not.toContain('tape');
});

// Only root may give a file to somebody else, which the first test needs to be kept and the second to prepare.
test.runIf(getuid?.() === 0)('owner, group and mode are kept where the system allows it', async () => {
  const desk = new Desk();
  const path = join(desk.folder, practice);
  chownSync(path, 65534, 65533);
  chmodSync(path, 0o664);
  await desk.log('crate-vault', '--landed');
  expect((await desk.log('--end')).out).not.toContain('new file');
  const { uid, gid, mode } = statSync(path);
  expect({ uid, gid, mode: mode & 0o7777 }).toEqual({ uid: 65534, gid: 65533, mode: 0o664 });
});

test.runIf(getuid?.() === 0)('owner and group that cannot be kept are said', () => {
  const desk = new Desk();
  const path = join(desk.folder, practice);
  for (const open of [desk.folder, desk.state]) chmodSync(open, 0o777);
  chmodSync(command, 0o755);
  chmodSync(join(command, '..'), 0o755);
  const log = (...args: string[]) =>
    execFileSync(execPath, [command, 'log', ...args], {
      cwd: desk.folder,
      env: { ROUTEWRIGHT_STATE_HOME: desk.state },
      uid: 65534,
      gid: 65534,
      encoding: 'utf8',
    });
  log('crate-vault', '--landed');
  expect(log('--end')).toContain(
    `${practice} was written as a new file: it has another owner now; it has another group now.`,
  );
  expect(statSync(path).uid).toBe(65534);
});

/** Leaves a folder as a process does that ends at the moment at which the file has no name. */
function endWithoutName(folder: string, name: string): void {
  const path = join(folder, name);
  const stem = join(folder, `.${name}.0123abcd-${hashOf(readFileSync(path))}`);
  linkSync(path, `${stem}.new`);
  renameSync(path, `${stem}.old`);
}

test('a file that has no name after an interruption has it again for every command, and no new log is begun', async () => {
  for (const words of [['log', 'crate-vault', '--landed'], ['check'], ['rank', '.'], ['log']]) {
    const desk = new Desk({
      'lanternfall.route.yaml': route,
      [practice]: `route: lanternfall.route.yaml # mine\n`,
    });
    endWithoutName(desk.folder, practice);
    await routewright(desk.folder, words, { env: { ROUTEWRIGHT_STATE_HOME: desk.state } });
    expect([words, readdirSync(desk.folder).sort()]).toEqual([words, [practice, 'lanternfall.route.yaml']]);
    expect(textOf(desk.folder, practice)).toBe('route: lanternfall.route.yaml # mine\n');
  }
});

test('a file that somebody removed after its replacement stays removed', async () => {
  const desk = new Desk();
  endWithoutName(desk.folder, practice);
  const fresh = readdirSync(desk.folder).find((name) => name.endsWith('.new'))!;
  renameSync(join(desk.folder, fresh), join(ownFolder(), 'gone'));
  await routewright(desk.folder, ['check'], {});
  expect(existsSync(join(desk.folder, practice))).toBe(false);
});
