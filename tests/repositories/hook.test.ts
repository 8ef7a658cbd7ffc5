import { execFile } from 'node:child_process';
import { accessSync, constants, copyFileSync, mkdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { fileKinds, fileKindOf } from '../../server/src/files/fileKind.ts';
import { buildCommand, type BuiltCommand } from '../helpers/builtCommand.ts';
import { repository, type Repository } from '../helpers/repository.ts';
import { practice, route } from '../helpers/smallRoute.ts';
import { root } from './actionRun.ts';

/** S: keys and values of a hook, from pre-commit's own page on creating hooks, https://pre-commit.com/#new-hooks. */
interface Hook {
  readonly id: string;
  readonly name: string;
  readonly description: string;
  readonly entry: string;
  readonly args: readonly string[];
  readonly language: string;
  readonly files: string;
  readonly require_serial: boolean;
}
const hooks = parse(readFileSync(join(root, '.pre-commit-hooks.yaml'), 'utf8')) as Hook[];
const [hook] = hooks as [Hook];

let command: BuiltCommand;
let home: string;
const made: Repository[] = [];
beforeAll(async () => {
  command = await buildCommand();
  // The clone of this repository that pre-commit keeps, built.
  home = join(dirname(command.script), '../..');
  mkdirSync(join(home, '.github'));
  copyFileSync(join(root, '.github/routewright'), join(home, '.github/routewright'));
});
afterAll(async () => {
  await command.remove();
  for (const each of made) each.remove();
});

/** What pre-commit does for a script: the entry's first word in its clone, then the other words, args and files. */
function runHook(files: Readonly<Record<string, string>>): Promise<{ code: number; said: string }> {
  const repo = repository();
  made.push(repo);
  for (const [name, text] of Object.entries(files)) repo.write(name, text);
  const [script, ...words] = hook.entry.split(' ') as [string, ...string[]];
  const args = [...words, ...hook.args, ...Object.keys(files)];
  return new Promise((resolve) => {
    execFile(join(home, script), args, { cwd: repo.folder, env: command.env }, (error, out, err) => {
      resolve({ code: typeof error?.code === 'number' ? error.code : error ? -1 : 0, said: `${out}${err}` });
    });
  });
}

describe('the hook for pre-commit', () => {
  it('has what pre-commit asks of a hook, and names a program that exists', () => {
    expect(hooks).toHaveLength(1);
    expect(Object.keys(hook).sort()).toEqual(
      ['args', 'description', 'entry', 'files', 'id', 'language', 'name', 'require_serial'].sort(),
    );
    expect(hook).toMatchObject({ id: 'routewright-check', language: 'script', require_serial: true });
    accessSync(join(root, hook.entry.split(' ')[0]!), constants.X_OK);
  });

  it('is asked about the files that routewright reads, and about no other', () => {
    const wanted = new RegExp(hook.files);
    for (const kind of fileKinds)
      for (const name of [`a/b.${kind}.yaml`, `b.${kind}.yml`]) {
        expect(wanted.test(name), name).toBe(true);
        expect(fileKindOf(name)).toBe(kind);
      }
    for (const name of ['a.yaml', 'a.route.yaml.txt', 'route.yaml', 'a.plan.yaml'])
      expect(wanted.test(name), name).toBe(false);
  });

  it('passes good files', async () => {
    const { code, said } = await runHook({
      'my routes/lanternfall.route.yaml': route,
      'my routes/lanternfall.practice.yaml': practice,
    });
    expect(code, said).toBe(0);
  });

  it('fails with the place of a mistake, also in a file whose name begins like an option', async () => {
    const { code, said } = await runHook({
      '--json.route.yaml': route.replace('[wall-kick]', '[crate-valt]'),
    });
    expect(code, said).toBe(1);
    expect(said).toContain('--json.route.yaml:5:');
    expect(said).toContain('crate-valt');
  });
});
