import { execFile } from 'node:child_process';
import { cpSync, existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCommand, type BuiltCommand } from '../helpers/builtCommand.ts';
import { codeBlocks } from '../helpers/codeBlocks.ts';
import { repository as gitRepository, type Repository } from '../helpers/repository.ts';

const root = join(import.meta.dirname, '../..');
const readText = (path: string): string => readFileSync(join(root, path), 'utf8');
const manifest = (path: string) =>
  JSON.parse(readText(path)) as { name: string; version: string; scripts?: Record<string, string> };

const extension = manifest('package.json');
const server = manifest('server/package.json');
/** Files that `npm run package` makes; tests/package makes and installs them. */
const packages = [
  `dist/${extension.name}-${extension.version}.vsix`,
  `dist/${server.name}-${server.version}.tgz`,
];

/** Commands of a page's `sh` blocks, in order, and those that CI runs by its YAML block. */
function commandsOf(path: string): string[] {
  const page = readText(path);
  const shell = codeBlocks(page, 'sh').flatMap((block) => block.split('\n'));
  const ci = codeBlocks(page, 'yaml').flatMap((block) =>
    [...block.matchAll(/^- run: (.*)$/gm)].map(([, run]) => run!),
  );
  return [...shell, ...ci].map((line) => line.replace(/(^|\s)#.*$/, '').trim()).filter((line) => line !== '');
}

const readmeCommands = commandsOf('README.md');
const serverCommands = commandsOf('server/README.md');

/** Set-up commands, which would start these tests again or install into the machine: what they name is checked. */
function expectSetUp(command: string): boolean {
  const parts = command.split(' && ');
  const [first = ''] = parts;
  if (first.startsWith('code --install-extension ') || first.startsWith('npm install --global ')) {
    expect(packages).toContain(first.split(' ').at(-1));
    return true;
  }
  if (!parts.every((part) => part.startsWith('npm '))) return false;
  for (const part of parts) {
    const words = part.split(' ').filter((word) => !word.startsWith('-'));
    if (words[1] === 'ci') expect(existsSync(join(root, 'package-lock.json'))).toBe(true);
    else expect(extension.scripts, part).toHaveProperty(words[1] === 'run' ? words[2]! : words[1]!);
  }
  return true;
}

describe('README.md', () => {
  it('has 900 words at most', () => {
    expect(readText('README.md').trim().split(/\s+/).length).toBeLessThanOrEqual(900);
  });

  it('has the two commands that set everything up before any other', () => {
    expect(readmeCommands.slice(0, 2)).toEqual(['npm ci && npm run --silent sample', 'npm ci && npm test']);
    expect(extension.scripts?.sample).toMatch(/npm run .*build && node server\/dist\/cli\.js rank samples\//);
  });

  it('names no npm script and no file of the project that is missing', () => {
    for (const path of [
      'README.md',
      'server/README.md',
      'DEVELOPERS.md',
      'tests/bench/README.md',
      'tests/arena/README.md',
      'tests/lsp/README.md',
    ]) {
      const page = readText(path);
      for (const [, script] of page.matchAll(/npm run (?:--?\w+ )*([a-z]+)/g))
        expect(extension.scripts, `${path}: npm run ${script}`).toHaveProperty(script!);
      for (const [, target] of page.matchAll(/\]\((?!https?:)([^)#]+)(?:#[^)]*)?\)/g))
        expect(existsSync(join(root, path, '..', target!)), `${path}: ${target}`).toBe(true);
    }
  });
});

describe('every command on the pages', () => {
  let command: BuiltCommand;

  beforeAll(async () => {
    command = await buildCommand();
  });
  afterAll(() => command.remove());

  /** Runs a command in a shell, and gives its exit code and output. */
  function run(line: string, folder: string): Promise<{ code: number; output: string }> {
    return new Promise((resolve) => {
      execFile('/bin/sh', ['-c', line], { cwd: folder, env: command.env }, (error, out, err) => {
        resolve({
          code: error ? (typeof error.code === 'number' ? error.code : -1) : 0,
          output: `${out}${err}`,
        });
      }).stdin?.end();
    });
  }

  /** A folder under git with a copy of the sample, the other runners included. */
  function withSample(): Repository {
    const folder = gitRepository();
    const isData = (path: string): boolean => path.endsWith('.yaml') || statSync(path).isDirectory();
    cpSync(join(root, 'samples'), join(folder.folder, 'samples'), { recursive: true, filter: isData });
    folder.commit('The sample');
    return folder;
  }

  it('that shows an answer prints each line of it', async () => {
    const place = withSample();
    expect((await run('routewright new my-route', place.folder)).code).toBe(0);
    const shown = codeBlocks(readText('README.md'), 'text').flatMap((block) => block.split(/^\$ /m).slice(1));
    expect(shown.length).toBeGreaterThan(0);
    for (const one of shown) {
      const [command = '', ...lines] = one.trim().split('\n');
      const { code, output } = await run(command, place.folder);
      expect(code, output).toBe(0);
      expect(lines.length).toBeGreaterThan(0);
      // Lines that are left out are shown as a single sign.
      for (const line of lines.filter((text) => text !== '…')) expect(output.split('\n')).toContain(line);
    }
    place.remove();
  });

  it.each([
    ['README.md', readmeCommands, 9],
    ['server/README.md', serverCommands, 20],
  ] as const)(
    'of %s ends as it should',
    async (_, commands, least) => {
      const place = withSample();
      let ran = 0;
      for (const line of commands) {
        if (expectSetUp(line)) continue;
        const { code, output } = await run(line, place.folder);
        expect(code, `${line}\n${output}`).toBe(0);
        expect(output.length + (line.includes('>') ? 1 : 0), line).toBeGreaterThan(0);
        ran++;
      }
      expect(ran).toBeGreaterThanOrEqual(least);
      place.remove();
    },
    600_000,
  );
});
