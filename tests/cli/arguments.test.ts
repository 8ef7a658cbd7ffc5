import { describe, expect, test } from 'vitest';
import { commands } from '../../server/src/cli/commandList.ts';
import { formatList } from '../../server/src/text/format.ts';
import { repository, routewright } from './place.ts';

const names = commands.map(({ name }) => name);
const say = (...argv: string[]) => routewright(repository, argv);

describe('help', () => {
  test('names every command and exits 0', async () => {
    const { code, out } = await say('--help');
    expect(code).toBe(0);
    const width = Math.max(...names.map(({ length }) => length));
    // A long summary goes on in the next line.
    const lines = out.replace(/\n {4,}/g, ' ');
    for (const { name, summary } of commands)
      expect(lines).toContain(`\n  ${name.padEnd(width)}  ${summary}\n`);
  });

  test.each(commands.map(({ name }) => name))('%s --help lists its options and an example', async (name) => {
    const { code, out, err } = await say(name, '--help');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const { options, examples } = commands.find((command) => command.name === name)!;
    for (const option of options) expect(out).toMatch(new RegExp(`^ {2}--${option.name}\\b`, 'm'));
    for (const example of examples) expect(out).toContain(`  ${example}\n`);
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  test('is the same behind `help` and wins over what else is written', async () => {
    const { out } = await say('rank', '--help');
    expect((await say('help', 'rank')).out).toBe(out);
    expect((await say('rank', '--nonsense', '-h')).out).toBe(out);
  });

  test('--version prints the version of the package', async () => {
    const { out } = await say('--version');
    expect(out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
});

describe('wrong use exits 2 with a sentence on stderr and nothing on stdout', () => {
  test.each([
    [[], `Say what to do: ${formatList(names).replace(' and ', ' or ')}.`],
    [['rnk'], 'There is no command rnk. Did you mean rank?'],
    [['frobnicate'], `There is no command frobnicate. There are ${formatList(names)}.`],
    [['--json', 'rank'], 'The command comes first'],
    [['rank', '--jsno'], 'rank has no option --jsno. Did you mean --json?'],
    [['rank', '--explian', 'crate-vault'], 'rank has no option --explian. Did you mean --explain?'],
    [
      ['rank', '--cycle', 'tide-skip'],
      '--cycle needs a technique and its seconds, such as tide-skip=6, not tide-skip.',
    ],
    [['rank', '--cycle', 'tide-skip=0'], '--cycle needs a technique and its seconds'],
    [['odds', '--target', 'soon'], '--target needs a time such as 41:30 or 92.4, not soon.'],
    [['rank', '--as-of'], '--as-of needs a value: --as-of DATE.'],
    [['rank', '--as-of', '--json'], '--as-of needs a value: --as-of DATE.'],
    [['rank', '--as-of', '2026-02-30'], '--as-of needs a date such as 2026-10-05, or last, not 2026-02-30.'],
    [
      ['rank', '--as-of=2026-10-05T10:00'],
      '--as-of needs a date such as 2026-10-05, or last, not 2026-10-05T10:00.',
    ],
    [['rank', '--json=yes'], '--json takes no value.'],
    [['rank', '--objective', 'luck'], '--objective can be time or target, not luck.'],
    [['check', '--fail-on', 'info'], '--fail-on can be error, warning or hint, not info.'],
    [['check', '--json', '--sarif'], 'Choose one of --json and --sarif'],
    [['serve'], 'routewright serve --stdio'],
    [['new', 'a', 'b'], 'One folder at a time'],
  ])('%j', async (argv, sentence) => {
    const { code, out, err } = await say(...argv);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(sentence);
  });
});

describe('input that cannot be read', () => {
  test.each([
    ['nowhere', 'nowhere cannot be read: it does not exist.'],
    ['package.json', 'package.json is no file of a route.'],
    ['.vscode', 'There is no route'],
  ])('%s', async (path, sentence) => {
    for (const command of ['check', 'rank']) {
      const { code, out, err } = await say(command, path, '--json');
      expect({ command, code, out }).toEqual({ command, code: 2, out: '' });
      expect(err).toContain(sentence);
      expect(err.trim().split('\n')).toHaveLength(1);
    }
  });
});
