import { describe, expect, test } from 'vitest';
import { commands } from '../../server/src/cli/commandList.ts';
import { folderOf, routewright, type Said } from './place.ts';

/** Recolours, clears, turns the direction around, breaks the line, and then says something of its own. */
const hostile = 'x\u001b[31m\u009b2J\u202e\u2066\u2028\u007f\r\n\nFORGED';
const written = JSON.stringify(hostile);
const stem = 'a\u001b[31m\u009b2J\u202e\n\nFORGED';

const names = Object.fromEntries(
  (['route', 'practice', 'runs', 'week'] as const).map((kind) => [kind, `${stem}.${kind}.yaml`]),
) as Readonly<Record<'route' | 'practice' | 'runs' | 'week', string>>;

const route = `game: ${written}
category: ${written}
x-mine: ${written}
segments:
  - { id: harbor, name: ${written}, time: 1:32.4, techniques: [crate-vault, ${written}] }
  - { id: stairs, name: ${written}, time: 2:10.0, techniques: [{ use: wall-kick, id: ${written} }] }
techniques:
  crate-vault: { name: ${written}, difficulty: 4, saves: 3.2, loses: 1.4, needs: [${written}] }
  wall-kick: { name: ${written}, difficulty: 2, saves: 1.5, loses: 0.5, was: [{ id: ${written} }] }
  ${written}: { name: ${written}, difficulty: 2, saves: 1.5 }
`;
const practice = `route: ${JSON.stringify(names.route)}
runner: ${written}
sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [60, 150], on: ${written} }
      - { technique: ${written}, minutes: 25, landed: [6, 15] }
      - { technique: wall-kick, minutes: 25, landed: [90, 150] }
      - { technique: wall-kick, minutes: 25, ${written}: 1 }
  - start: ${written}
`;
const runs = `route: ${JSON.stringify(names.route)}
runner: ${written}
runs:
  - { start: 2026-10-06T20:00, total: "3:41.2", tried: { crate-vault: [1, 1], ${written}: [1, 1] } }
  - { start: 2026-10-06T20:30, ended: { at: ${written}, why: miss, by: ${written} } }
`;
const week = `route: ${JSON.stringify(names.route)}
days: { mon: 50, ${written}: 20 }
pinned: [${written}]
`;
const files = {
  [names.route]: route,
  [names.practice]: practice,
  [names.runs]: runs,
  [names.week]: week,
  // Not UTF-8, and of another encoding: the reason is printed with the name.
  [`b${stem}.week.yaml`]: new Uint8Array([0xff, 0xfe, 0x00]),
  [`c${stem}.practice.yaml`]: `route: ${JSON.stringify(`no${names.route}`)}\nsessions: []\n`,
  [`d${stem}.pool.yaml`]: `route: ${JSON.stringify(names.route)}\nmodel: 1\nrunners: [${written}]\n${written}: 1\n`,
  [`${stem}.csv`]: `start,technique,minutes,landed,tries,${stem.replaceAll('\n', ' ')}\n2026-10-07,${JSON.stringify(hostile)},20,1,2,3\n`,
  [`good${stem}.csv`]: `start,technique,minutes,landed,tries,"${hostile}"\n2026-10-07,crate-vault,20,1,2,3\n`,
};

/** A command line in a folder of hostile files, and whether its answer names something hostile. */
interface Case {
  readonly argv: readonly string[];
  readonly names?: boolean;
  /** What is logged before it. */
  readonly logged?: readonly string[];
}

const say = (...argv: string[]): Case => ({ argv });
const quiet = (...argv: string[]): Case => ({ argv, names: false });

const afterAttempt = (...argv: string[]): Case => ({
  argv,
  logged: ['log', 'crate-vault', names.practice, '--landed'],
});
const afterRun = (...argv: string[]): Case => ({
  argv,
  logged: ['log', names.practice, '--run', '--total', '3:40', '--on', hostile],
});

const forms = (...argv: string[]): Case[] => [say(...argv), say(...argv, '--json')];
const cases: readonly Case[] = [
  ...forms('check'),
  say('check', '--sarif'),
  say('check', '--fix'),
  say('check', '--fix', '--json'),
  say('check', `missing${stem}.route.yaml`),
  say('check', '--runner', hostile),
  ...forms('tonight', names.route),
  say('rank', names.route),
  quiet('rank', names.route, '--json'),
  say('rank', names.route, '--explain', 'crate-vault'),
  say('rank', names.route, '--explain', hostile),
  say('rank', names.route, '--cycle', `${hostile}=3`),
  say('rank', `c${stem}.practice.yaml`),
  say('rank', names.route, `b${stem}.week.yaml`),
  say(`rank${stem}`),
  say('rank', `--${hostile}`),
  ...forms('plan', names.route),
  say('plan', names.route, '--ics', `${stem}.ics`),
  say('plan', names.route, '--ics', `${stem}.csv`),
  say('odds', names.route),
  quiet('odds', names.route, '--json'),
  say('odds', names.route, '--with', hostile),
  say('odds', names.route, '--target', hostile),
  say('review', names.route),
  quiet('review', names.route, '--json'),
  say('progress', names.route),
  quiet('progress', names.route, '--json'),
  say('progress', names.route, '--months', hostile),
  say('compare', names.route, names.route),
  say('compare', names.route, names.route, '--json'),
  say('compare', names.route, `${hostile}:${names.route}`),
  say('compare', names.route, names.route, '--with', hostile),
  ...forms('pool', '.', '--route', names.route),
  say('pool', '.', `d${stem}.pool.yaml`, '--route', names.route),
  say('pool', '.', '--route', hostile),
  say('pool', '.', '--route', names.route, '--output', hostile),
  say('pool', hostile),
  say('log', 'crate-vault', names.practice, '--start', '--json'),
  say('log', hostile, names.practice, '--landed'),
  quiet('log', 'crate-vault', names.practice, '--landed'),
  { ...afterAttempt('log', names.practice, '--undo'), names: false },
  afterAttempt('log', names.practice, '--undo', '--json'),
  afterAttempt('log', names.practice, '--end'),
  { ...afterAttempt('log', names.practice), names: false },
  say('log', names.practice, '--json'),
  say(
    'log',
    'crate-vault',
    names.practice,
    '--landed',
    '3',
    '--tries',
    '4',
    '--minutes',
    '5',
    '--on',
    hostile,
  ),
  say('log', names.practice, '--run', '--total', '3:40', '--on', hostile),
  say('log', names.practice, '--run', '--total', hostile),
  say('log', names.practice, '--run', '--ended', `${hostile}:miss`),
  afterRun('log', names.practice, '--undo'),
  afterRun('log', names.practice, '--undo', '--json'),
  say('log', names.practice, '--import', `${stem}.csv`),
  say('log', names.practice, '--import', `good${stem}.csv`, '--dry-run'),
  say('log', names.practice, '--import', `good${stem}.csv`, '--json'),
  say('log', names.practice, '--columns', hostile, '--import', `good${stem}.csv`),
  say('log', names.practice, '--moved-from', `gone${names.practice}`),
  say('log', names.practice, '--moved-from', hostile),
  quiet('new', stem, '--game', hostile, '--category', hostile),
  say('new', stem, '--game', hostile, '--category', hostile),
  say('new', `other${stem}`, '--game', hostile, '--json'),
  say('new', `out${stem}`, '--from', `good${stem}.csv`),
  say('new', `out${stem}`, '--from', `good${stem}.csv`, '--columns', `${hostile}=time`),
  quiet('export', 'practice', names.route),
  quiet('export', 'runs', names.route),
  quiet('export', 'ranking', names.route),
  quiet('export', names.route, '--json'),
  say('export', 'runs', names.route, '--to', names.route),
  say('explain', hostile),
  say('completion', hostile),
  quiet('completion', '--ids', 'technique'),
  quiet('completion', 'bash'),
  quiet('serve', hostile),
];

/** Codes of the program's own on a terminal: bold, dim, neither; pictures in colour; the erased line of progress. */
const own = /\u001b\[(?:1|2|22|36|39)m|\r\u001b\[K/g;
const acting = /[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u206f]/u;

function expectHarmless({ out, err }: Said, isTTY: boolean): void {
  for (const text of [out, err]) {
    const rest = isTTY ? text.replaceAll(own, '') : text;
    expect(acting.exec(rest.replaceAll('\n', ''))?.[0]?.codePointAt(0)).toBe(undefined);
    // A single break may be that of a line which is full.
    expect(text).not.toMatch(/(?:^|\n)\s*\nFORGED/);
  }
}

const titleOf = (argv: readonly string[]): string => argv.join(' ').replace(/[^\x20-\x7e]/gu, '?');

describe('codes in files, in their names and in arguments reach no terminal', () => {
  test('every command is tried', () => {
    const tried = new Set(cases.map(({ argv: [name] }) => name));
    expect(commands.map(({ name }) => name).filter((name) => !tried.has(name))).toEqual([]);
  });

  for (const isTTY of [false, true])
    test.each(
      cases.map(({ argv, logged, names: shown = true }) => ({ title: titleOf(argv), argv, logged, shown })),
    )(`${isTTY ? 'terminal' : 'pipe'}: $title`, async ({ argv, logged, shown }) => {
      const folder = folderOf(files);
      const env = { ROUTEWRIGHT_STATE_HOME: folderOf({}) };
      if (logged) expect((await routewright(folder, logged, { env })).code).toBe(0);
      const said = await routewright(folder, argv, { isTTY, env });
      expectHarmless(said, isTTY);
      if (shown) expect(said.out + said.err).toContain('FORGED');
    });

  test('a program reads the very names from JSON', async () => {
    const { out } = await routewright(folderOf(files), ['check', '--json']);
    const { findings } = JSON.parse(out) as { findings: { file: string; message: string }[] };
    expect(findings.map(({ file }) => file)).toContain(names.route);
    expect(findings.some(({ message }) => message.includes('\u202e'))).toBe(true);
  });
});
