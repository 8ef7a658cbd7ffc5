import { execFileSync } from 'node:child_process';
import { mkdtempSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { changedFiles, projectFiles } from './changed.ts';
import { chooseTests } from './choose.ts';
import { reachedBy, readReferences } from './reach.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'quick-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function write(files: Readonly<Record<string, string>>): string[] {
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  return Object.keys(files);
}

describe('what a change can reach', () => {
  test('is what imports it, by how many steps, whatever way it is imported', () => {
    const files = write({
      'server/src/a.ts': '',
      'server/src/b.ts': "import { a } from './a.ts';",
      'server/src/c.ts': "const b = await import('./b.ts');",
      'tests/unit/c.test.ts': "import '../../server/src/c.ts';\nimport { b } from '../../server/src/b.ts';",
      'tests/unit/other.test.ts': "import '../../server/src/d.ts';",
      'server/src/d.ts': '',
    });
    expect(Object.fromEntries(reachedBy(readReferences(folder, files), ['server/src/a.ts']))).toEqual({
      'server/src/a.ts': 0,
      'server/src/b.ts': 1,
      'server/src/c.ts': 2,
      'tests/unit/c.test.ts': 2,
    });
  });

  test('is also what bundles it, reads it or its folder, and starts it by its path', () => {
    const files = write({
      'server/src/worker.ts': '',
      'samples/a.route.yaml': '',
      'tests/cli/bundles.test.ts': "await programOf('server/src/worker.ts', folder);",
      'tests/unit/reads.test.ts': "readFileSync(new URL('../../samples/a.route.yaml', import.meta.url));",
      'tests/unit/fills.test.ts':
        'readFileSync(new URL(`../../samples/${kind}.route.yaml`, import.meta.url));',
      'tests/cli/folder.test.ts': "join(import.meta.dirname, '../../samples');",
    });
    const references = readReferences(folder, files);
    const tests = (changed: string): string[] =>
      [...reachedBy(references, [changed]).keys()].filter((path) => path.endsWith('.test.ts')).sort();
    expect(tests('server/src/worker.ts')).toEqual(['tests/cli/bundles.test.ts']);
    expect(tests('samples/a.route.yaml')).toEqual([
      'tests/cli/folder.test.ts',
      'tests/unit/fills.test.ts',
      'tests/unit/reads.test.ts',
    ]);
  });
});

describe('the tests for which there is time', () => {
  const seconds: Readonly<Record<string, number>> = { near: 3, slow: 20, far: 2, changed: 30 };
  const choose = (budget: number) =>
    chooseTests(
      new Map([
        ['far', 4],
        ['slow', 1],
        ['near', 1],
        ['changed', 0],
      ]),
      (path) => seconds[path]!,
      budget,
    );

  test('are the nearest; a slow one gives its place to those behind it, and is named', () => {
    expect(choose(40)).toEqual({ run: ['changed', 'near', 'far'], leftOut: ['slow'] });
  });

  test('hold what changed itself, however long it takes', () => {
    expect(choose(1)).toEqual({ run: ['changed'], leftOut: ['near', 'slow', 'far'] });
  });

  test('are all of them where there is time for all', () => {
    expect(choose(60)).toEqual({ run: ['changed', 'near', 'slow', 'far'], leftOut: [] });
  });
});

describe('what changed', () => {
  const git = (...args: readonly string[]): void => {
    const author = ['-c', 'user.name=a', '-c', 'user.email=a@example.org', '-c', 'commit.gpgsign=false'];
    execFileSync('git', [...author, ...args], { cwd: folder, stdio: 'ignore' });
  };

  test('is what differs from the commit that is shared: committed, edited, new and taken away', async () => {
    git('init', '-q', '-b', 'shared');
    write({ 'same.ts': '', 'edited.ts': '', 'gone.ts': '', '.gitignore': 'made/\n' });
    git('add', '.');
    git('commit', '-qm', 'shared');
    git('checkout', '-qb', 'own', '--track', 'shared');
    write({ 'committed.ts': '' });
    git('add', '.');
    git('commit', '-qm', 'own');
    write({ 'edited.ts': 'new', 'fresh.ts': '', 'made/by.ts': '' });
    rmSync(join(folder, 'gone.ts'));
    expect(await changedFiles(folder)).toMatchObject({
      files: ['committed.ts', 'edited.ts', 'fresh.ts'],
      gone: ['gone.ts'],
    });
    expect(await projectFiles(folder)).toEqual(expect.arrayContaining(['fresh.ts', 'same.ts']));
  });
});
