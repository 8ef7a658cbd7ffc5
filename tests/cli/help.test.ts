import { execFileSync, spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { commands } from '../../server/src/cli/commandList.ts';
import type { Command } from '../../server/src/cli/terminal/command.ts';
import { exitRows, helpTopics, sectionsOf, usageOf } from '../../server/src/cli/terminal/helpPage.ts';
import { manPage } from '../../server/src/cli/terminal/manPage.ts';
import { folderOf, routewright } from './place.ts';

const folder = folderOf({});
const say = (...argv: string[]) => routewright(folder, argv);
/** A text without the places where its lines are broken. */
const flat = (text: string): string => text.replace(/\s+/g, ' ');

describe('the page of a command', () => {
  test.each(commands)('$name has its usage, options, examples, exit codes and files', async (command) => {
    const { code, out } = await say('help', command.name);
    expect(code).toBe(0);
    expect(flat(out)).toContain(flat(`Usage: ${usageOf(command)} `));
    const titles = ['Options', command.examples.length === 1 ? 'Example' : 'Examples', 'Exit codes'];
    const all = command.files ? [...titles, 'Files'] : titles;
    const places = all.map((title) => out.indexOf(`\n${title}\n`));
    expect(places).not.toContain(-1);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    for (const [exit, said] of exitRows(command)) expect(flat(out)).toContain(`${exit} ${said}`);
    for (const [name, said] of command.files ?? []) expect(flat(out)).toContain(`${name} ${said}`);
  });

  test('names files for every command that answers about a route, and each name is said once', () => {
    for (const { name, files, completes } of commands) {
      if (completes.includes('file')) expect(files, name).toBeDefined();
      const names = (files ?? []).map(([file]) => file);
      expect(new Set(names).size).toBe(names.length);
    }
  });

  test('a mistyped subject is told the nearest one', async () => {
    expect((await say('help', 'exit-code')).err).toContain('Did you mean exit-codes?');
    expect((await say('help', 'ranc')).err).toContain('Did you mean rank?');
    // Topics are subjects of help alone.
    expect((await say('exit-code')).err).not.toContain('exit-codes');
  });

  test('the overview names every subject of help', async () => {
    const { out } = await say('help');
    for (const topic of helpTopics) expect(out).toContain(`help ${topic}`);
    expect(out).toContain('help COMMAND');
    expect(out).toContain('help --man');
  });
});

describe('the manual page', () => {
  let page: string;
  let shown: string;
  beforeAll(async () => {
    ({ out: page } = await say('help', '--man'));
    const file = join(folder, 'routewright.1');
    writeFileSync(file, page);
    const lint = spawnSync('mandoc', ['-T', 'lint', file], { encoding: 'utf8' });
    // A text made from the sources alone has no date.
    expect(lint.stdout.trim().split('\n')).toEqual([
      expect.stringMatching(/WARNING: missing date, using "": TH$/),
    ]);
    const text = execFileSync('mandoc', ['-T', 'utf8', '-O', 'width=1000', file], { encoding: 'utf8' });
    shown = flat(text.replace(/.\u0008/gu, ''));
  });

  test('shows what the pages of all commands show', () => {
    expect(page).toMatch(/^[ -~\n]*$/);
    for (const command of commands) {
      expect(shown).toContain(flat(usageOf(command)));
      for (const { rows = [], lines = [], prose = [] } of sectionsOf(command))
        for (const said of [...rows.flat(), ...lines, ...prose]) expect(shown).toContain(flat(said));
    }
  });

  test('has the sections that a reader of manual pages looks for', () => {
    const sections = [...page.matchAll(/^\.SH (.*)$/gm)].map(([, title]) => title);
    expect(sections).toEqual([
      ...['NAME', 'SYNOPSIS', 'DESCRIPTION', 'OPTIONS', 'COMMANDS', 'EXIT STATUS', 'ENVIRONMENT'],
    ]);
    expect([...page.matchAll(/^\.SS "(.*)"$/gm)].map(([, name]) => name)).toEqual(
      commands.map(({ name }) => name),
    );
  });

  test('a text is never an instruction', () => {
    const evil = [`.so /etc/passwd`, `'br`, '\\fBbold\\n(.g', 'a "b" -c', 'Größe … −'];
    const command: Command = {
      ...commands[0]!,
      notes: evil,
      examples: evil,
      files: evil.map((name) => [name, name]),
    };
    const file = join(folder, 'evil.1');
    writeFileSync(file, manPage([command], '1'));
    const text = execFileSync('mandoc', ['-T', 'utf8', '-O', 'width=1000', file], { encoding: 'utf8' });
    const plain = flat(text.replace(/.\u0008/gu, ''));
    for (const each of evil) expect(plain.split(each).length - 1, each).toBeGreaterThanOrEqual(4);
  });
});
