import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { execPath } from 'node:process';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { commands } from '../../server/src/cli/commandList.ts';
import { exitRows } from '../../server/src/cli/terminal/helpPage.ts';
import { buildCommand, type BuiltCommand } from '../helpers/builtCommand.ts';
import { poolRepository } from '../helpers/poolRunners.ts';
import { folderOf, practice, repository, route, routewright } from './place.ts';

const runs = `route: a.route.yaml
runs:
  - { start: 2026-10-07T20:00, total: "3:42.4", tried: { crate-vault: [1, 2] } }
`;
const week = `route: a.route.yaml
days: { mon: 60, tue: 60, wed: 60, thu: 60, fri: 60, sat: 60, sun: 60 }
`;
const full = {
  'a.route.yaml': route,
  'a.practice.yaml': practice.replace('lanternfall', 'a'),
  'a.runs.yaml': runs,
  'a.week.yaml': week,
};
const bare = {
  'a.route.yaml': 'game: Lanternfall\ncategory: any%\nsegments:\n  - { id: harbor, time: 1:32.4 }\n',
};
/** A technique that no segment uses: a finding that is no error. */
const unused = {
  'a.route.yaml': `${bare['a.route.yaml']}techniques:\n  lamp-clip: { difficulty: 4, saves: 3.2, loses: 1.4 }\n`,
};
const headings = 'date,technique,minutes,landed,tries\n';

type Provoked = readonly [files: Readonly<Record<string, string>>, argv: readonly string[]];

/** What makes each command end with each of its exit codes; `serve` is a process, and below. */
const provoked: Readonly<Record<string, Readonly<Record<number, readonly Provoked[]>>>> = {
  check: {
    0: [
      [full, []],
      [unused, ['--fail-on', 'error']],
    ],
    1: [
      [{ 'a.route.yaml': route.replace('[wall-kick]', '[crate-valt]') }, []],
      [{ 'a.route.yaml': route.replace('[wall-kick]', '[crate-valt]') }, ['--sarif']],
      [unused, ['--fail-on', 'hint']],
    ],
    2: [
      [full, ['nowhere']],
      [full, ['--json', '--sarif']],
    ],
  },
  tonight: { 0: [[full, []]], 1: [[bare, []]], 2: [[full, ['nowhere']]] },
  rank: {
    0: [[full, ['--all']]],
    1: [[bare, []]],
    2: [
      [full, ['nowhere']],
      [full, ['--explain', 'lamp-clip']],
    ],
  },
  plan: { 0: [[full, []]], 1: [[bare, []]], 2: [[full, ['--weeks', '0']]] },
  odds: {
    0: [
      [full, []],
      [bare, []],
    ],
    2: [[full, ['--target', 'soon']]],
  },
  review: { 0: [[full, []]], 1: [[bare, []]], 2: [[full, ['nowhere']]] },
  progress: { 0: [[full, []]], 1: [[bare, []]], 2: [[full, ['nowhere']]] },
  compare: { 0: [[full, ['a.route.yaml', 'a.route.yaml']]], 2: [[full, ['a.route.yaml']]] },
  pool: {
    0: [
      [poolRepository([1, 2, 3, 4], { nights: 5 }), []],
      [poolRepository([1, 2, 3, 4], { nights: 5 }), ['--write']],
    ],
    1: [
      [full, []],
      [
        {
          ...poolRepository([1, 2, 3, 4], { nights: 5 }),
          'old.pool.yaml': 'route: lanternfall.route.yaml\nmodel: 999\nday: 2026-10-05\nrunners: []\n',
        },
        ['.', 'old.pool.yaml'],
      ],
    ],
    2: [
      [full, ['nowhere']],
      [full, ['a.practice.yaml']],
      [poolRepository([1, 2, 3, 4], { nights: 5 }), ['.', '--output', 'lanternfall.route.yaml']],
    ],
  },
  log: {
    0: [
      [full, ['crate-vault', '--landed']],
      [full, []],
    ],
    1: [[{ ...full, 't.csv': headings }, ['--import', 't.csv']]],
    2: [
      [full, ['lamp-clip', '--landed']],
      [{ ...full, 't.csv': `${headings}yesterday,crate-vault,5,1,2\n` }, ['--import', 't.csv']],
    ],
  },
  export: {
    0: [[full, ['practice']]],
    1: [[bare, ['practice']]],
    2: [
      [full, []],
      [full, ['practice', '--to', 'a.route.yaml']],
    ],
  },
  new: {
    0: [[{}, ['mine']]],
    2: [[full, ['.', '--from', 'nowhere.csv']]],
  },
  explain: { 0: [[{}, ['saves']]], 2: [[{}, ['savs-nothing']]] },
  completion: { 0: [[{}, ['bash']]], 2: [[{}, ['cmd']]] },
};

const cases = Object.entries(provoked).flatMap(([name, codes]) =>
  Object.entries(codes).flatMap(([code, all]) =>
    all.map(([files, argv]) => ({ code: Number(code), argv: [name, ...argv], files })),
  ),
);
const promised = (name: string): number[] =>
  exitRows(commands.find((command) => command.name === name)!).map(([code]) => Number(code));

describe('every command ends with each exit code that its page promises', () => {
  test.each(cases)('$argv ends with $code', async ({ code, argv, files }) => {
    const said = await routewright(folderOf(files), argv, {
      env: { ROUTEWRIGHT_STATE_HOME: folderOf({}), HOME: folderOf({}) },
    });
    expect({ code: said.code, said: `${said.out}${said.err}` }).toMatchObject({ code });
  });

  test('and with no other one: each promised code is provoked, and nothing beyond it', () => {
    for (const { name } of commands.filter((command) => command.name !== 'serve'))
      expect(Object.keys(provoked[name] ?? {}).map(Number), name).toEqual(promised(name));
  });

  test.each([
    [['--help'], 0],
    [['help', 'exit-codes'], 0],
    [['help', '--man'], 0],
    [['--version'], 0],
    [['rank', '--help', 'nowhere'], 0],
    [['help', 'rnk'], 2],
    [['rnk'], 2],
    [[], 2],
  ])('%j ends with %i', async (argv, code) => {
    expect((await routewright(folderOf({}), argv)).code).toBe(code);
  });
});

describe('serve', () => {
  let command: BuiltCommand;
  beforeAll(async () => {
    command = await buildCommand();
  });
  afterAll(() => command.remove());

  /** The exit code after these messages and the end of the input. */
  function served(args: readonly string[], messages: readonly object[]): Promise<number | null> {
    const child = spawn(execPath, [command.script, 'serve', ...args], { env: command.env, stdio: 'pipe' });
    for (const message of messages) {
      const text = JSON.stringify({ jsonrpc: '2.0', ...message });
      child.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
    }
    child.stdout.resume();
    child.stderr.resume();
    if (messages.at(-1) === undefined) child.stdin.end();
    return new Promise((resolve) => child.on('close', resolve));
  }
  const initialize = {
    id: 1,
    method: 'initialize',
    params: { processId: null, rootUri: null, capabilities: {} },
  };

  test('ends with 0 after shutdown and exit, with 1 after exit alone, and with 2 on wrong use', async () => {
    const exit = { method: 'exit' };
    expect(promised('serve')).toEqual([0, 1, 2]);
    expect(await served(['--stdio'], [initialize, { id: 2, method: 'shutdown' }, exit])).toBe(0);
    expect(await served(['--stdio'], [initialize, exit])).toBe(1);
    expect(await served([], [])).toBe(2);
  });
});

test('the page of the command line has the same table', async () => {
  const page = readFileSync(join(repository, 'server/README.md'), 'utf8');
  const table = [...page.matchAll(/^\| `(\w+)` *\| (.*?) *\| (.*?) *\| (.*?) *\|$/gm)].map(
    ([, ...cells]) => cells,
  );
  const wanted = commands.map(({ name, exits: { fine, findings, wrong } }) => [
    name,
    ...[fine, findings ?? '·', wrong],
  ]);
  expect(table).toEqual(wanted);

  const { out } = await routewright(folderOf({}), ['help', 'exit-codes']);
  const lines = out.replace(/\n {4,}/g, ' ');
  for (const command of commands)
    expect(lines).toContain(
      [`${command.name}\n`, ...exitRows(command).map(([code, said]) => `  ${code}  ${said}\n`)].join(''),
    );
});
