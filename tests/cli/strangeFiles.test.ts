import { readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type BuiltCommand, buildCommand } from '../helpers/builtCommand.ts';
import { measured } from '../helpers/measured.ts';
import { secret, type StrangeFolder, strangeFolder, unreadable } from '../helpers/strangeFiles.ts';
import { folderOf, practice, route } from './place.ts';

let command: BuiltCommand;
let strange: StrangeFolder;
beforeAll(async () => {
  command = await buildCommand();
  strange = strangeFolder();
});
afterAll(async () => {
  strange.remove();
  await command.remove();
});

/** One command in a process of its own, in the folder with the strange files. */
const run = (argv: readonly string[], cwd = strange.folder) =>
  measured([command.script, ...argv], { cwd, env: command.env, limit: 60 });

interface Found {
  readonly findings: readonly { readonly file: string; readonly code: string; readonly message: string }[];
}

describe('files that are no files of text', () => {
  test('each is a finding with its reason and a way out, and is not read', async () => {
    const { code, out, megabytes } = await run(['check', '--json', '--as-of', 'last']);
    expect(code).toBe(2);
    const { findings } = JSON.parse(out) as Found;
    const unread = findings.filter(({ code: of }) => of === 'file-not-read' || of === 'file-too-large');
    expect(Object.fromEntries(unread.map(({ file }) => [file, true]))).toEqual(
      Object.fromEntries(Object.keys(unreadable).map((name) => [name, true])),
    );
    for (const { file, message } of unread) {
      expect(message, file).toContain(unreadable[file]);
      expect(message, file).toMatch(/^This file is not read: [^.].*\. [A-Z].*\.$/);
    }
    expect(out).not.toContain(secret);
    expect(megabytes).toBeLessThan(500);
  });

  test.each([
    [['check']],
    [['rank', 'lanternfall.route.yaml', '--as-of', 'last']],
    [['plan', 'lanternfall.route.yaml', '--as-of', 'last']],
    [['tonight', 'lanternfall.route.yaml']],
    [['odds', 'lanternfall.route.yaml', '--as-of', 'last']],
    [['review', 'lanternfall.route.yaml', '--as-of', 'last']],
    [['progress', 'lanternfall.route.yaml', '--as-of', 'last']],
    [['compare', 'lanternfall.route.yaml', 'zero.route.yaml']],
    [['pool', '.', '--route', 'lanternfall.route.yaml']],
    [['check', 'zero.route.yaml']],
    [['check', 'out.practice.yaml']],
    [['check', 'chain.week.yaml', 'through.runs.yaml', 'above.runs.yaml', 'device.runs.yaml']],
    [['check', '--fix', 'pipe.runs.yaml', 'sparse-1.practice.yaml']],
    [['log', 'crate-vault', '--landed', 'zero.route.yaml']],
    [['log', '--import', 'zero.practice.yaml', 'lanternfall.route.yaml']],
    [['log', '--import', 'pipe.runs.yaml', 'lanternfall.route.yaml']],
    [['log', '--import', 'out.practice.yaml', 'lanternfall.route.yaml']],
    [['plan', 'lanternfall.route.yaml', '--ics', 'zero.practice.yaml', '--as-of', 'last']],
  ])('%j ends, takes little memory and shows nothing of the file outside', async (argv) => {
    const { code, out, err, megabytes, opened } = await run(argv);
    expect(code, err).toBeTypeOf('number');
    expect([0, 1, 2], err).toContain(code);
    expect(out + err).not.toContain(secret);
    expect(opened.filter((path) => path.startsWith('/dev/') || path.startsWith(strange.outside))).toEqual([]);
    expect(out + err).not.toMatch(/\bat .*\.js:\d+/);
    expect(megabytes).toBeLessThan(500);
  });

  test('a link that stays in the folder is read, and counts', async () => {
    const { out } = await run(['rank', 'lanternfall.route.yaml', '--json', '--all', '--as-of', 'last']);
    const only = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice });
    const { out: less } = await run(['rank', '--json', '--all', '--as-of', 'last'], only);
    const techniques = (text: string) => text.match(/"technique": ?"[a-z-]+"/g)?.sort();
    expect(techniques(out)).toEqual(techniques(less));
    expect(out).not.toBe(less);
  });

  test('a link may lead to another folder of the repository', async () => {
    const folder = folderOf({
      '.git/HEAD': 'ref: refs/heads/main\n',
      'logs/iris.txt': practice,
      'routes/lanternfall.route.yaml': route,
    });
    symlinkSync('../logs/iris.txt', join(folder, 'routes/lanternfall.practice.yaml'));
    for (const given of ['routes', 'routes/lanternfall.route.yaml'])
      expect((await run(['check', given, '--as-of', 'last'], folder)).out).toContain('2 files');
    rmSync(join(folder, '.git'), { recursive: true });
    const { code, out } = await run(['check', 'routes', '--as-of', 'last'], folder);
    expect(code).toBe(2);
    expect(out).toContain('it leads out of the folder');
  });

  test('a log that becomes a link out of the folder is written to no more', async () => {
    const outside = folderOf({ 'theirs.txt': practice });
    const folder = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice });
    const log = (mark: string) => run(['log', 'crate-vault', '--tape', mark], folder);
    expect((await log('lm')).code).toBe(0);
    rmSync(join(folder, 'lanternfall.practice.yaml'));
    symlinkSync(join(outside, 'theirs.txt'), join(folder, 'lanternfall.practice.yaml'));
    const { code, err } = await log('ml');
    expect(code).toBe(2);
    expect(err).toContain('it leads out of the folder');
    expect(readFileSync(join(outside, 'theirs.txt'), 'utf8')).toBe(practice);
  });

  test('many large files are read until there are too many together', async () => {
    const line = `# ${'x'.repeat(997)}\n`;
    const large = `${practice}${line.repeat(15_000)}`;
    const folder = folderOf({ 'lanternfall.route.yaml': route });
    for (const name of ['a', 'b', 'c', 'd', 'e', 'f'])
      writeFileSync(join(folder, `${name}.practice.yaml`), large);
    const { code, out, megabytes } = await run(['check', '--json', '--as-of', 'last'], folder);
    expect(code).toBe(2);
    const { findings } = JSON.parse(out) as Found;
    const unread = findings.filter(({ code: of }) => of === 'file-not-read');
    expect(unread.map(({ file }) => file)).toEqual(
      ['c', 'd', 'e', 'f'].map((name) => `${name}.practice.yaml`),
    );
    expect(unread[0]!.message).toContain('40 MB together');
    expect(megabytes).toBeLessThan(900);
  });
});
