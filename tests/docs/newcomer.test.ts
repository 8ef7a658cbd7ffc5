/** What README.md shows of a newcomer's first ranking on the sample, with and without the pool of its runners. */
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildCommand, type BuiltCommand } from '../helpers/builtCommand.ts';
import { codeBlocks } from '../helpers/codeBlocks.ts';

const root = join(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'newcomer-'));
let command: BuiltCommand;
beforeAll(async () => {
  command = await buildCommand();
});
afterAll(async () => {
  rmSync(folder, { recursive: true });
  await command.remove();
});

const run = (...words: readonly string[]): string =>
  execFileSync(process.execPath, [command.script, ...words], {
    cwd: root,
    env: command.env,
    encoding: 'utf8',
  });

interface Row {
  readonly technique: string;
  readonly low: number;
  readonly high: number;
}

const ranked = (): readonly Row[] =>
  (JSON.parse(run('rank', folder, '--as-of', '2026-11-30', '--json')) as { rows: readonly Row[] }).rows;

test('the two first rankings are those that the command gives', () => {
  copyFileSync(join(root, 'samples/lanternfall.route.yaml'), join(folder, 'lanternfall.route.yaml'));
  const alone = ranked();
  run('pool', 'samples', '--output', join(folder, 'lanternfall.pool.yaml'));
  const pooled = ranked();
  const names = new Map(
    [
      ...readFileSync(join(root, 'samples/lanternfall.route.yaml'), 'utf8').matchAll(
        /^ {2}([a-z-]+):\n {4}name: (.*)$/gm,
      ),
    ].map(([, id, name]) => [name!, id!]),
  );
  const cells = (rows: readonly Row[], id: string): string => {
    const place = rows.findIndex(({ technique }) => technique === id);
    const { low, high } = rows[place]!;
    return `${place + 1}. ${low.toFixed(1)} to ${high.toFixed(1)}`;
  };
  const block = codeBlocks(readFileSync(join(root, 'README.md'), 'utf8'), 'text').find((text) =>
    text.includes('with the pool'),
  )!;
  const lines = block.trimEnd().split('\n');
  expect(lines).toHaveLength(6);
  for (const line of lines.slice(1)) {
    const [, name, told] = /^(.*?) +(\d+\. .*)$/.exec(line)!;
    const id = names.get(name!)!;
    expect(told!.replace(/ +/g, ' ')).toBe(`${cells(alone, id)} ${cells(pooled, id)}`);
  }
}, 300_000);
