import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples } from './place.ts';

interface Estimate {
  mean: number;
  low: number;
  high: number;
}
interface Report {
  asOf: string;
  target?: { seconds: number; chance: number; ranked: boolean };
  rows: {
    technique: string;
    gainPerHour: number;
    gain: number;
    hours: number;
    runNow: Estimate;
    package: { gainPerHour: number; members: string[] } | null;
  }[];
  skipped: { technique: string; reason: string }[];
}

async function ranked(cwd: string, ...argv: string[]) {
  const said = await routewright(cwd, ['rank', '--json', ...argv]);
  return { ...said, report: JSON.parse(said.out) as Report };
}

/** The sample's ranking, worked out once: it is the same for every test that only looks at it. */
let sample: ReturnType<typeof ranked> | undefined;
const rankedSample = () => (sample ??= ranked(samples));

const width = ({ low, high }: Estimate) => high - low;

/** Every key of a value with its place, in order. */
function keys(value: unknown): string[] {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) => [
    key,
    ...keys(inner).map((below) => `${key}.${below}`),
  ]);
}

describe('rank --json', () => {
  test('carries exactly the promised fields in their order', async () => {
    const { code, report, err } = await rankedSample();
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(Object.keys(report)).toEqual([
      'asOf',
      'objective',
      'unit',
      'rows',
      'standings',
      'skipped',
      'runner',
      'quickerRepeats',
    ]);
    const estimate = (name: string) => [name, `${name}.mean`, `${name}.low`, `${name}.high`];
    expect(keys(report.rows[0])).toEqual([
      ...['technique', 'gainPerHour', 'low', 'high', 'blocks', 'blockMinutes', 'hours', 'gain'],
      ...['breakEven', 'resetWeight'],
      ...['practiceNow', 'runNow', 'runThen'].flatMap(estimate),
      ...['hoursToCompetent', 'hoursToCompetent.p10', 'hoursToCompetent.p50', 'hoursToCompetent.p90'],
      ...['chanceCompetent', 'chanceBest', 'opensWith', 'openNeeds', 'package', 'reason'],
    ]);
    expect(report.skipped.map((row) => Object.keys(row))).toContainEqual(['technique', 'reason']);
    expect(report.asOf).toBe('2026-11-09');
  });

  test('a row in a package carries its joint gain and its members, in the order of practice', async () => {
    const { report } = await rankedSample();
    const packaged = report.rows.filter((row) => row.package !== null);
    expect(packaged.map(({ technique }) => technique)).toEqual(['lamp-clip', 'lamp-throw']);
    for (const row of packaged) expect(row.package!.members).toEqual(['lamp-clip', 'lamp-throw']);
    const hours = packaged.reduce((sum, row) => sum + row.hours, 0);
    const gain = packaged.reduce((sum, row) => sum + row.gain, 0);
    expect(packaged[0]!.package!.gainPerHour).toBeCloseTo(gain / hours, 3);
  });

  test('says the same twice, to the byte, in no more digits than are written', async () => {
    const once = await rankedSample();
    expect((await routewright(samples, ['rank', '--json'])).out).toBe(once.out);
    expect(once.out).not.toMatch(/\d\.\d{7}/);
    expect(once.out).not.toMatch(/-0[,\n]/);
  });

  test('is the same asked of the folder, the route, a log and the week', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      'lanternfall.practice.yaml': practice,
      'lanternfall.runs.yaml':
        'route: lanternfall.route.yaml\nruns: [{ start: 2026-10-08, tried: { wall-kick: [1, 2] } }]\n',
      'lanternfall.week.yaml': 'route: lanternfall.route.yaml\nblock: 20\n',
    });
    const { out } = await routewright(folder, ['rank', '--json']);
    expect(out).toContain('"asOf": "2026-10-09"');
    for (const kind of ['route', 'practice', 'runs', 'week'])
      expect((await routewright(folder, ['rank', '--json', `lanternfall.${kind}.yaml`])).out).toBe(out);
  });

  test('--objective target ranks by the chance of beating the target, and says so', async () => {
    const { report } = await ranked(samples, '--objective', 'target');
    expect(Object.keys(report).slice(0, 4)).toEqual(['asOf', 'objective', 'unit', 'target']);
    expect(report).toMatchObject({
      objective: 'target',
      unit: '1/h',
      target: { seconds: 2490, ranked: true },
    });
    const odds = await routewright(samples, ['odds', '--json']);
    const { perHour } = JSON.parse(odds.out) as { perHour: { line: number } };
    expect(report.target!.chance).toBeGreaterThan(0.5 * (1 - Math.exp(-perHour.line)));
    expect(report.target!.chance).toBeLessThan(2 * (1 - Math.exp(-perHour.line)));
    for (const row of report.rows) expect(row.gain).toBeLessThan(1);
    const { out } = await routewright(samples, ['rank', '--objective', 'target', '--target', '41:20']);
    expect(out).toMatch(/Ranked by the chance of beating 41:20\.0 in an hour of runs, \d+ % now\./);
    expect(out).toContain(' pp');
    expect(out).not.toMatch(/save \d/);
  });

  test('--objective target falls back to time where the target is out of reach, and says so', async () => {
    const { report } = await ranked(samples, '--objective', 'target', '--target', '20:00');
    const { report: byTime } = await rankedSample();
    expect(report).toMatchObject({
      objective: 'time',
      unit: 's/h',
      target: { seconds: 1200, ranked: false },
    });
    expect(report.rows).toEqual(byTime.rows);
    const { out } = await routewright(samples, ['rank', '--objective', 'target', '--target', '20:00']);
    expect(out.replaceAll('\n', ' ')).toContain('out of reach for now');
  });

  test.each([
    [['--target', '41:00'], /goes with --objective target/],
    [['--objective', 'target', '--explain', 'tide-skip'], /leave out --objective target/],
  ])('%s is refused with a way out', async (options, message) => {
    const { code, err } = await routewright(samples, ['rank', ...options]);
    expect(code).toBe(2);
    expect(err).toMatch(message);
  });

  test('--all ranks what is in the run, too', async () => {
    const { report: some } = await rankedSample();
    const { report: all } = await ranked(samples, '--all');
    expect(all.rows.length).toBeGreaterThan(some.rows.length);
    expect(all.rows.length + all.skipped.length).toBe(some.rows.length + some.skipped.length);
  });

  test('--as-of sets the date, and later entries do not count', async () => {
    const folder = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice });
    expect((await ranked(folder)).report.asOf).toBe('2026-10-07');
    const before = await ranked(folder, '--as-of', '2026-10-01');
    const bare = await ranked(folderOf({ 'lanternfall.route.yaml': route }), '--as-of', '2026-10-01');
    expect(before.report).toEqual(bare.report);
  });
});

describe('rank for people', () => {
  test('prints a numbered table of all rows in order, the date and what it rests on', async () => {
    const { report } = await rankedSample();
    const { out, err } = await routewright(samples, ['rank'], { env: { COLUMNS: '130' } });
    expect(err).toBe('');
    expect(out).toContain('The answer is for the morning of 2026-11-09, the day after the last log entry.');
    const numbered = out.split('\n').filter((line) => /^ *\d+ {2}\S/.test(line));
    expect(numbered).toHaveLength(report.rows.length);
    expect(numbered[0]).toMatch(/^ *1 {2}.* s {2}.* to .* s {2}.* (min|h) .* % .* %$/);
    expect(new Set(numbered.map((line) => line.length)).size).toBe(1);
    // A package has a row of its own above its members, and sentences have names.
    expect(out).toMatch(/\n *7–8 {2}Lamp clip \+ Lamp throw .*\n *7 {2}└ Lamp clip .*\n *8 {2}└ Lamp throw /);
    expect(out).toContain('it opens Lamp throw');
    expect(out).not.toMatch(/lamp-(clip|throw)|`/);
    expect(out).toContain('Not ranked');
    expect(out).toContain('The runner: techniques are');
  });

  test('aligns names by the width they take on the screen', async () => {
    const folder = folderOf({ 'a.route.yaml': route.replace('name: Crate vault', 'name: 箱の跳び越え') });
    const { out } = await routewright(folder, ['rank']);
    const rows = out.split('\n').filter((line) => /^ *\d+ {2}\S/.test(line));
    // Each of the six characters takes two columns (Unicode Standard Annex 11: wide).
    const shown = rows.map((line) => line.length + (line.includes('箱') ? 6 : 0));
    expect(new Set(shown).size).toBe(1);
  });

  test('shows progress on a terminal only, and on stderr', async () => {
    const folder = folderOf({ 'a.route.yaml': route });
    expect((await routewright(folder, ['rank'])).err).toBe('');
    const { out, err } = await routewright(folder, ['rank'], { isTTY: true, env: { NO_COLOR: '1' } });
    expect(err).toMatch(/^Ranking 2 techniques….*\r/);
    expect(out).not.toContain('…');
  });

  test('cautions where the days are long, and only there', async () => {
    const files = { 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice };
    const week = (minutes: number) => `route: lanternfall.route.yaml\ndays: { mon: ${minutes} }\n`;
    const said = async (more: Record<string, string>) =>
      (await routewright(folderOf({ ...files, ...more }), ['rank'])).out;
    expect(await said({ 'a.week.yaml': week(50) })).not.toContain('clinician');
    expect(await said({ 'a.week.yaml': week(240) })).toContain('clinician');
    const long = practice.replaceAll('minutes: 25', 'minutes: 90');
    expect(await said({ 'lanternfall.practice.yaml': long })).toContain('clinician');
  });
});

describe('what there is to go by', () => {
  test('no logs at all: still a ranking, with wide margins, and it says so', async () => {
    const folder = folderOf({ 'a.route.yaml': route });
    const { code, report, err } = await ranked(folder);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(report.rows.map(({ technique }) => technique).sort()).toEqual(['crate-vault', 'wall-kick']);
    const logged = await ranked(
      folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice }),
      '--all',
    );
    for (const { technique, runNow } of report.rows) {
      const known = logged.report.rows.find((row) => row.technique === technique)!;
      expect(width(runNow)).toBeGreaterThan(0.2);
      expect(width(runNow) / Math.min(runNow.mean, 1 - runNow.mean)).toBeGreaterThan(
        width(known.runNow) / Math.min(known.runNow.mean, 1 - known.runNow.mean),
      );
    }
    expect((await routewright(folder, ['rank'])).out).toContain('Nothing is logged yet');
  });

  test('a cycle in needs: says so on stderr and in `skipped`, and ranks the rest', async () => {
    const cyclic = route
      .replace('techniques: [wall-kick]', 'techniques: [wall-kick, a, b]')
      .concat('  a: { difficulty: 2, saves: 1, needs: [b] }\n  b: { difficulty: 2, saves: 1, needs: [a] }\n');
    const { code, report, err } = await ranked(folderOf({ 'x.route.yaml': cyclic }));
    expect(code).toBe(0);
    expect(err).toMatch(/x\.route\.yaml:\d+:\d+ {2}error .*a → b → a/);
    expect(report.rows.map(({ technique }) => technique).sort()).toEqual(['crate-vault', 'wall-kick']);
    expect(report.skipped.map(({ technique }) => technique).sort()).toEqual(['a', 'b']);
  });

  test('a missing base and a stray log: says so, and ranks the rest', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': `extends: gone.route.yaml\n${route}`,
      'lanternfall.practice.yaml': practice.replace('lanternfall.route', 'lanternfal.route'),
    });
    const { code, report, err } = await ranked(folder, 'lanternfall.route.yaml');
    expect(code).toBe(0);
    expect(report.rows).toHaveLength(2);
    expect(err).toContain('gone.route.yaml');
    expect(err).toContain('lanternfal.route.yaml');
    expect(err).toContain('2 errors');
  });

  test('nothing left to rank: exit 1, and every technique with its reason', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      'lanternfall.week.yaml':
        'route: lanternfall.route.yaml\nstates: { crate-vault: in-run, wall-kick: in-run }\n',
    });
    const { code, report } = await ranked(folder);
    expect(code).toBe(1);
    expect(report.rows).toEqual([]);
    expect(report.skipped).toHaveLength(2);
    expect((await routewright(folder, ['rank'])).out).toContain('No technique is left to rank.');
  });

  test('several routes: asks for one', async () => {
    const folder = folderOf({ 'a.route.yaml': route, 'below/b.route.yaml': route });
    const { code, out, err } = await routewright(folder, ['rank']);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('a.route.yaml and below/b.route.yaml');
    expect((await routewright(folder, ['rank', join('below', 'b.route.yaml')])).code).toBe(0);
  });

  test('several routes, one with mistakes: asks first, and tells of them once that one is chosen', async () => {
    const broken = route.replaceAll('saves:', 'savs:');
    const folder = folderOf({ 'a.route.yaml': route, 'b.route.yaml': broken });
    const { code, err } = await routewright(folder, ['rank']);
    expect({ code, err }).toEqual({
      code: 2,
      err: 'There are several routes: a.route.yaml and b.route.yaml. Name one: routewright rank a.route.yaml\n',
    });
    expect((await routewright(folder, ['rank', 'b.route.yaml'])).err).toContain('Unknown key `savs`');
    expect((await routewright(folder, ['rank', 'a.route.yaml'])).err).toBe('');
  });

  test('several runners: names them, and ranks for the one chosen', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      'iris.practice.yaml': `runner: Iris\n${practice}`,
      'noor.practice.yaml': `runner: Noor\n${practice.replace('[60, 150]', '[149, 150]')}`,
    });
    const undecided = await routewright(folder, ['rank']);
    expect(undecided).toMatchObject({ code: 2, out: '' });
    expect(undecided.err).toContain('Iris and Noor');
    const rate = async (runner: string) =>
      (await ranked(folder, '--runner', runner, '--all')).report.rows.find(
        ({ technique }) => technique === 'crate-vault',
      )!.runNow.mean;
    expect(await rate('Noor')).toBeGreaterThan(await rate('Iris'));
  });

  test('several runners: the week file chooses one of them, and --runner another', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      'iris.practice.yaml': `runner: Iris\n${practice}`,
      'noor.practice.yaml': `runner: Noor\n${practice.replace('[60, 150]', '[149, 150]')}`,
      'my.week.yaml': 'route: lanternfall.route.yaml\nrunner: Iris\n',
    });
    const { report: chosen } = await ranked(folder, '--all');
    expect(chosen).toEqual((await ranked(folder, '--runner', 'Iris', '--all')).report);
    expect(chosen).not.toEqual((await ranked(folder, '--runner', 'Noor', '--all')).report);
  });
});
