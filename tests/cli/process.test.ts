import { execFile, spawn } from 'node:child_process';
import { existsSync, openSync } from 'node:fs';
import { join } from 'node:path';
import { env, execPath } from 'node:process';
import { beforeAll, describe, expect, test } from 'vitest';
import { poolRepository } from '../helpers/poolRunners.ts';
import { folderOf, practice, repository, route, routewright, samples, textOf } from './place.ts';

const cache = folderOf({});
const built = join(repository, 'server/dist/cli.js');

function start(
  file: string,
  args: readonly string[],
  cwd: string,
): Promise<{ code: number; out: string; err: string }> {
  return new Promise((resolve) => {
    execFile(
      execPath,
      [file, ...args],
      { cwd, env: { ...env, ROUTEWRIGHT_CACHE_HOME: cache } },
      (error, out, err) => {
        resolve({ code: typeof error?.code === 'number' ? error.code : error ? -1 : 0, out, err });
      },
    );
  });
}

beforeAll(async () => {
  const { code, err } = await start(join(repository, 'build.mjs'), [], repository);
  expect(code, err).toBe(0);
});

describe('the built command', () => {
  test('prints what the same code prints in this process', async () => {
    for (const argv of [['rank', '--json'], ['rank'], ['check']].map((words) => [
      ...words,
      '--as-of',
      'last',
    ])) {
      const { code, out, err } = await start(built, argv, samples);
      expect({ code, out, err }).toEqual(await routewright(samples, argv));
    }
  });

  test('counts many runners by threads, whose program is beside it, and prints the same', async () => {
    const seeds = Array.from({ length: 20 }, (_, i) => i + 1);
    const folder = folderOf(poolRepository(seeds, { nights: 5 }));
    const argv = ['pool', '.', '--json', '--as-of', 'last'];
    expect(existsSync(join(repository, 'server/dist/parts/runnerWorker.js'))).toBe(true);
    const alone = await routewright(folder, [...argv, '--threads', '1']);
    expect(alone).toMatchObject({ code: 0, err: '' });
    expect(await start(built, [...argv, '--threads', '2'], folder)).toEqual(alone);
  });

  test('passes the exit code on', async () => {
    const folder = folderOf({ 'a.route.yaml': route.replace('[crate-vault]', '[crate-valt]') });
    expect((await start(built, ['check'], folder)).code).toBe(1);
    expect((await start(built, ['check', 'nowhere'], folder)).code).toBe(2);
  });

  test('ends quietly where its reader has seen enough', async () => {
    const child = spawn(execPath, [built, 'rank', '--all', '--json'], { cwd: samples });
    let err = '';
    child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
    child.stdout.destroy();
    const code = await new Promise((resolve) => child.on('close', resolve));
    expect({ code, err }).toEqual({ code: 0, err: '' });
  });

  describe.skipIf(!existsSync('/dev/full'))(
    'where its answer cannot be printed, because the disk is full',
    () => {
      const withFullDisk = (argv: readonly string[], cwd: string, state: string) =>
        new Promise<{ code: number | null; err: string }>((resolve) => {
          const child = spawn(execPath, [built, ...argv], {
            cwd,
            env: { ...env, ROUTEWRIGHT_STATE_HOME: state },
            stdio: ['ignore', openSync('/dev/full', 'w'), 'pipe'],
          });
          let err = '';
          child.stderr!.on('data', (chunk: Buffer) => (err += chunk.toString()));
          child.on('close', (code) => resolve({ code, err }));
        });
      const lost = 'The answer could not be printed: the disk is full.\n';

      test.each([[], ['--json']])('logs an attempt once, says so and exits 0 %j', async (...form) => {
        const [folder, state] = [
          folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice }),
          folderOf({}),
        ];
        const { code, err } = await withFullDisk(['log', 'crate-vault', '--landed', ...form], folder, state);
        expect({ code, err }).toEqual({
          code: 0,
          err: `${lost}What was logged is kept all the same: do not log it again.\n`,
        });
        const { out } = await routewright(folder, ['log'], { env: { ROUTEWRIGHT_STATE_HOME: state } });
        expect(out).toBe('Crate vault: 1 of 1 landed, in the journal.\n');
      });

      test('exits 2 where the answer was all', async () => {
        const folder = folderOf({ 'a.route.yaml': route });
        expect(await withFullDisk(['rank'], folder, folderOf({}))).toEqual({ code: 2, err: lost });
      });

      test('says nothing of an answer where nothing was logged', async () => {
        const folder = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice });
        const { code, err } = await withFullDisk(['log', 'crate-valt', '--landed'], folder, folderOf({}));
        expect(code).toBe(2);
        expect(err).not.toContain('printed');
      });
    },
  );

  test('an attempt is folded into its file where its reader has gone', async () => {
    const [folder, state] = [
      folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice }),
      folderOf({}),
    ];
    const args = ['log', 'crate-vault', '--landed', '3', '--tries', '4', '--minutes', '5'];
    const child = spawn(execPath, [built, ...args], {
      cwd: folder,
      env: { ...env, ROUTEWRIGHT_STATE_HOME: state },
    });
    child.stdout.destroy();
    expect(await new Promise((resolve) => child.on('close', resolve))).toBe(0);
    expect(textOf(folder, 'lanternfall.practice.yaml')).toContain('landed: [3, 4]');
  });

  test('serve --stdio speaks the Language Server Protocol', async () => {
    const child = spawn(execPath, [built, 'serve', '--stdio'], { cwd: samples });
    const send = (message: object) => {
      const body = JSON.stringify({ jsonrpc: '2.0', ...message });
      child.stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
    };
    let out = '';
    const answered = new Promise<void>((resolve) => {
      child.stdout.on('data', (chunk: Buffer) => {
        out += chunk.toString();
        if (out.includes('"capabilities"')) resolve();
      });
    });
    send({ id: 1, method: 'initialize', params: { processId: null, rootUri: null, capabilities: {} } });
    await answered;
    expect(out).toMatch(/^Content-Length: \d+\r\n/);
    expect(out).toContain('"hoverProvider"');
    send({ id: 2, method: 'shutdown' });
    send({ method: 'exit' });
    expect(await new Promise((resolve) => child.on('close', resolve))).toBe(0);
  });
});
