import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type BuiltCommand, buildCommand } from '../helpers/builtCommand.ts';
import { hostileFolder } from '../helpers/hostileFolder.ts';
import { type Measured, measured } from '../helpers/measured.ts';
import { secret, type StrangeFolder } from '../helpers/strangeFiles.ts';

let command: BuiltCommand;
let strange: StrangeFolder;
beforeAll(async () => {
  command = await buildCommand();
  strange = hostileFolder();
});
afterAll(async () => {
  strange.remove();
  await command.remove();
});

const route = 'proto.route.yaml';
const commands = [
  ['check', '--as-of', 'last'],
  ['check', '--json', route],
  ['check', '--sarif', route],
  ['rank', route, '--as-of', 'last', '--all', '--json'],
  ['rank', route, '--as-of', 'last', '--explain', 'constructor'],
  ['plan', route, '--as-of', 'last', '--json'],
  ['tonight', route],
  ['odds', route, '--as-of', 'last'],
  ['review', route, '--as-of', 'last'],
  ['progress', route, '--as-of', 'last'],
  ['compare', route, 'lanternfall.route.yaml'],
  ['pool', '.', '--route', route],
  ['pool', '.', '--route', route, '--json', '--output', 'made.pool.yaml'],
  ['log', 'constructor', '--tape', 'lm', route],
  ['log', '__proto__', '--landed', route],
];

describe.each(commands)('in a folder that was written to do harm, %s %s %s', (...argv) => {
  let done: Measured;
  beforeAll(async () => {
    const args = [command.script, ...argv.filter((word) => word !== undefined)];
    done = await measured(args, { cwd: strange.folder, env: command.env, limit: 60 });
  });

  test('ends with an answer', () => {
    expect([0, 1, 2], done.err).toContain(done.code);
    expect(done.out + done.err).not.toBe('');
    expect(done.err).not.toMatch(/\bat .*\.js:\d+/);
  });

  test('starts no program, opens no file outside, and shows none of it', () => {
    expect(done.programs).toEqual([]);
    expect(existsSync(join(strange.folder, 'started'))).toBe(false);
    expect(
      done.opened.filter((path) => path.startsWith('/dev/') || path.startsWith(strange.outside)),
    ).toEqual([]);
    expect(done.out + done.err).not.toContain(secret);
  });

  test('gives no object a property that came from a file', () => {
    expect(done.inherited).toEqual([]);
  });
});

test('what is opened and started is seen by these tests', async () => {
  const seen = await measured(
    [
      '-e',
      "require('fs').readFileSync('proto.week.yaml'); require('child_process').execFileSync('true'); Object.prototype.polluted = 1",
    ],
    { cwd: strange.folder, limit: 60 },
  );
  expect(seen.opened).toContain(join(strange.folder, 'proto.week.yaml'));
  expect(seen).toMatchObject({ programs: ['true'], inherited: ['polluted'] });
});
