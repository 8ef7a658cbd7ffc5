import { execFileSync } from 'node:child_process';
import { env, execPath, platform } from 'node:process';
import stringWidth from 'string-width';
import { beforeAll, describe, expect, test } from 'vitest';
import { programOf } from '../helpers/commandLine.ts';
import { poolRepository } from '../helpers/poolRunners.ts';
import { folderOf, practice, route, routewright, type Terminal } from './place.ts';

/** Four runners of one route, in a folder of their own. */
const club = Object.entries(poolRepository([1, 2, 3, 4], { nights: 6 })).map(([name, text]) => [
  `club/${name}`,
  text,
]);
const files = {
  ...(Object.fromEntries(club) as Readonly<Record<string, string>>),
  // A name of wide characters (Unicode Standard Annex 11: two columns each), and one that is long.
  'lanternfall.route.yaml': route
    .replace('name: Crate vault', 'name: 箱の跳び越え')
    .replace('name: Wall kick', 'name: Wall kick behind the second lantern')
    .replace('time: 2:10.0', 'time: 2:10.0, spread: 4')
    .replace('category: any%', 'category: any%\ntarget: "3:40"'),
  'other.route.yaml': route.replace('saves: 3.2', 'saves: 2.5'),
  'lanternfall.practice.yaml': practice,
  'lanternfall.runs.yaml':
    'route: lanternfall.route.yaml\nruns:\n' +
    '  - { start: 2026-10-06T20:30, total: "3:41.2", tried: { wall-kick: [1, 1], crate-vault: [0, 1] } }\n',
  'lanternfall.week.yaml':
    'route: lanternfall.route.yaml\ndays: { wed: 80, thu: 60, fri: 45 }\nruns: { sat: 120 }\nstates: { wall-kick: in-run }\n',
  'segments.csv': 'segment,time,spread\nHarbor gate behind the second lantern,1:32.4,1.1\nRope yard,2:08,\n',
  'techniques.csv':
    'technique,difficulty,saves,loses,used in,needs,attempt,from\nCrate vault,4,9..16,1.4,Rope yard,,4,left\n箱,6,3,,,Crate vault,,\n',
  'broken.route.yaml': 'game: G\ncategory: c\nsegments:\n  - { id: a, time: 60, techniques: [skip] }\n',
};

const own = 'lanternfall.route.yaml';
const last = ['--as-of', 'last'];
/** Each command that answers people, by the name of its file in golden/. */
const answers: Readonly<Record<string, readonly string[]>> = {
  check: ['check', 'broken.route.yaml', '--as-of', '2026-10-07'],
  tonight: ['tonight', own, ...last],
  rank: ['rank', own, '--all', ...last],
  explain: ['rank', own, '--explain', 'crate-vault', ...last],
  plan: ['plan', own, ...last],
  odds: ['odds', own, ...last],
  review: ['review', own, ...last],
  progress: ['progress', own, ...last],
  compare: ['compare', own, 'other.route.yaml', ...last],
  pool: ['pool', 'club', '--min-runners', '4', ...last],
  log: [
    'log',
    'crate-vault',
    own,
    '--landed',
    '12',
    '--tries',
    '20',
    '--minutes',
    '15',
    '--at',
    '2026-10-07T19:30',
  ],
  new: ['new', 'my-route', '--game', 'Our game'],
  'new-from': ['new', 'made', '--from', 'segments.csv', '--from', 'techniques.csv', '--dry-run'],
  'explain-key': ['explain', 'saves'],
  help: ['help'],
  'help-rank': ['help', 'rank'],
};
const widths = [40, 80, 120];

const unicode = { LC_ALL: 'C.UTF-8', TERM: 'xterm-256color' };
const ascii = { LC_ALL: 'C', TERM: 'xterm-256color' };
const codes = /\u001b\[\d+m/g;
const withoutColour = (text: string): string => text.replace(codes, '');

/** What a command prints in this process for a terminal of so many columns. */
async function printed(argv: readonly string[], columns: number, place: Terminal['env']): Promise<string> {
  const terminal = { isTTY: true, columns, env: { ROUTEWRIGHT_STATE_HOME: folderOf({}), ...place } };
  return (await routewright(folderOf(files), argv, terminal)).out;
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", `'\\''`)}'`;
}

let program: string;
beforeAll(async () => {
  program = await programOf('server/src/cli.ts', folderOf({}));
});

/** What the program itself prints in a pseudo-terminal of so many columns, by `script` of util-linux. */
function printedInTerminal(
  argv: readonly string[],
  columns: number,
  place: Readonly<Record<string, string>>,
): string {
  const command = [execPath, program, ...argv].map(quoted).join(' ');
  const out = execFileSync(
    'script',
    ['-qec', `stty cols ${columns} rows 50; ${command} 2>/dev/null || true`, '/dev/null'],
    {
      cwd: folderOf(files),
      encoding: 'utf8',
      env: {
        PATH: env['PATH'],
        HOME: folderOf({}),
        ROUTEWRIGHT_STATE_HOME: folderOf({}),
        SHELL: '/bin/sh',
        ...place,
      },
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  return out.replaceAll('\r\n', '\n');
}

describe.each(Object.entries(answers))('%s', (name, argv) => {
  test.each(widths)('is as wide as a terminal of %i columns, and is what was agreed on', async (columns) => {
    const coloured = await printed(argv, columns, unicode);
    const plain = await printed(argv, columns, { ...ascii, NO_COLOR: '1' });
    const file = `golden/${name}.${columns}.txt`;
    const shown = `${coloured}\n--- without colour, in ASCII ---\n${plain}`.replaceAll('\u001b', '␛');
    await expect(shown).toMatchFileSnapshot(file);

    // Colour only adds to the words.
    expect(withoutColour(coloured)).toBe(await printed(argv, columns, { ...unicode, NO_COLOR: '1' }));
    expect(withoutColour(await printed(argv, columns, ascii))).toBe(plain);
    // Only names from files have other letters.
    expect(plain.replaceAll(/箱の跳び越え|箱/g, '')).toMatch(/^[\n -~]*$/);
    for (const line of [...withoutColour(coloured).split('\n'), ...plain.split('\n')])
      expect(stringWidth(line), line).toBeLessThanOrEqual(columns);
  });

  // Fails where `script` is missing: it is part of every Linux that has a terminal.
  test.skipIf(platform !== 'linux')(
    'comes out of the program in a pseudo-terminal as it does here, with colour and without, in UTF-8 and in ASCII',
    async () => {
      for (const place of [unicode, { ...ascii, NO_COLOR: '1' }])
        for (const columns of widths)
          expect(printedInTerminal(argv, columns, place)).toBe(await printed(argv, columns, place));
    },
  );
});

describe('where an answer goes', () => {
  const rank = ['rank', own, '--all', ...last];
  const folder = folderOf(files);
  const answer = async (terminal: Terminal, ...more: string[]) =>
    (await routewright(folder, [...rank, ...more], terminal)).out;
  const widest = (text: string) =>
    Math.max(
      ...withoutColour(text)
        .split('\n')
        .map((line) => stringWidth(line)),
    );

  test('a pipe has 80 columns and no colour; COLUMNS comes before what a terminal says', async () => {
    const piped = await answer({});
    expect(piped).not.toMatch(codes);
    expect(piped).toBe(await answer({ columns: 40 }));
    expect(piped).toBe(await answer({ isTTY: true, env: { NO_COLOR: '1' } }));
    expect(piped).toBe(await answer({ env: { COLUMNS: '80' } }));
    expect(piped).toBe(await answer({ env: { COLUMNS: 'wide' } }));
    expect(widest(piped)).toBeLessThanOrEqual(80);
    expect(widest(await answer({ isTTY: true, columns: 120, env: { COLUMNS: '40' } }))).toBeLessThanOrEqual(
      40,
    );
  });

  // NO_COLOR: no-color.org (from memory). FORCE_COLOR and its place before NO_COLOR: documentation of Node, "FORCE_COLOR".
  test.each([
    [{ isTTY: true, env: {} }, [], true],
    [{ isTTY: true, env: { NO_COLOR: '1' } }, [], false],
    [{ isTTY: true, env: { NO_COLOR: '' } }, [], true],
    [{ isTTY: true, env: { TERM: 'dumb' } }, [], false],
    [{ isTTY: true, env: { FORCE_COLOR: '0' } }, [], false],
    [{ isTTY: false, env: { FORCE_COLOR: '1' } }, [], true],
    [{ isTTY: false, env: { FORCE_COLOR: '1', NO_COLOR: '1' } }, [], true],
    [{ isTTY: false, env: {} }, ['--color', 'always'], true],
    [{ isTTY: false, env: { NO_COLOR: '1' } }, ['--color=always'], true],
    [{ isTTY: true, env: { FORCE_COLOR: '1' } }, ['--color', 'never'], false],
    [{ isTTY: false, env: {} }, ['--color', 'auto'], false],
  ])('%j %j: colour %s', async (terminal, options, coloured) => {
    expect(codes.test(await answer(terminal, ...options))).toBe(coloured);
    codes.lastIndex = 0;
  });

  // POSIX.1-2017, XBD 8.2: LC_ALL, then LC_CTYPE, then LANG; one that is empty does not count.
  test.each([
    [{}, true],
    [{ LANG: 'en_GB.UTF-8' }, true],
    [{ LANG: 'C.utf8' }, true],
    [{ LANG: 'C' }, false],
    [{ LANG: 'en_GB.UTF-8', LC_CTYPE: 'en_GB.ISO-8859-1' }, false],
    [{ LANG: 'C', LC_ALL: 'C.UTF-8' }, true],
    [{ LANG: 'en_GB.UTF-8', LC_ALL: '' }, true],
    [{ LANG: 'en_GB.UTF-8', TERM: 'dumb' }, false],
  ])('%j: more than ASCII %s', async (place, shows) => {
    expect((await answer({ env: { ...place, COLUMNS: '120' } })).includes('╋')).toBe(shows);
  });

  test('a finding stays on one line in a pipe, so that programs find it', async () => {
    const { out } = await routewright(folder, ['check', 'broken.route.yaml', ...last]);
    expect(out).toMatch(/^broken\.route\.yaml:\d+:\d+ {2}error {2}.* {2}\[[a-z-]+\]$/m);
  });

  test('a wrong choice of colour is an error', async () => {
    const { code, err } = await routewright(folder, [...rank, '--color', 'sometimes']);
    expect(code).toBe(2);
    expect(err).toContain('--color can be auto, always or never, not sometimes.');
  });

  test('JSON is the same everywhere', async () => {
    const [piped, coloured] = [
      await answer({}, '--json'),
      await answer(
        { isTTY: true, columns: 40, env: { ...ascii, FORCE_COLOR: '1' } },
        '--json',
        '--color',
        'always',
      ),
    ];
    expect(coloured).toBe(piped);
  });
});
