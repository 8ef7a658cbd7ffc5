import { execFile, spawn } from 'node:child_process';
import { join } from 'node:path';
import { execPath } from 'node:process';
import { beforeAll, describe, expect, test } from 'vitest';
import { folderOf, repository, route, routewright, samples } from './place.ts';

const built = join(repository, 'server/dist/cli.js');

function start(
  file: string,
  args: readonly string[],
  cwd: string,
): Promise<{ code: number; out: string; err: string }> {
  return new Promise((resolve) => {
    execFile(execPath, [file, ...args], { cwd }, (error, out, err) => {
      resolve({ code: typeof error?.code === 'number' ? error.code : error ? -1 : 0, out, err });
    });
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
