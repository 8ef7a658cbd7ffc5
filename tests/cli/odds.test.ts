import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples } from './place.ts';

interface Report {
  asOf: string;
  finalTime: number;
  clockPerFinish: number;
  finishChance: number;
  target: number | null;
  chance: number | null;
  quantiles: { p10: number; p50: number; p90: number };
  perHour: { line: number; never: number } | null;
  bestAfter: { runs: number; mean: number }[];
  form: {
    spread: { mean: number; low: number; high: number };
    days: number;
    seconds: number;
    finishedPerDay: number;
  } | null;
  resetLine: { segment: string; time: number | null }[];
  uses: string[];
  segmentTimes: { segment: string; from: string; runs: number }[];
  practiseOrRun: {
    hours: number;
    from: string;
    planHours: number;
    practice: number;
    chance: number;
    runsAlone: number;
    splits: { practice: number; runs: number; chance: number }[];
  } | null;
}

async function oddsOf(cwd: string, ...argv: string[]) {
  const said = await routewright(cwd, ['odds', '--json', ...argv]);
  return { ...said, report: JSON.parse(said.out) as Report };
}

const week = 'route: lanternfall.route.yaml\nstates: { crate-vault: in-run, wall-kick: in-run }\n';
const files = { 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice, 'a.week.yaml': week };

describe('odds --json', () => {
  test('carries the promised fields in their order, and the same bytes twice', async () => {
    const { code, err, out, report } = await oddsOf(samples);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(Object.keys(report)).toEqual([
      ...['asOf', 'finalTime', 'clockPerFinish', 'finishChance', 'target', 'chance', 'quantiles', 'perHour'],
      ...['bestAfter', 'form', 'resetLine', 'uses', 'segmentTimes', 'practiseOrRun'],
    ]);
    expect(Object.keys(report.quantiles)).toEqual(['p10', 'p50', 'p90']);
    expect((await routewright(samples, ['odds', '--json'])).out).toBe(out);
    expect(report.target).toBe(41 * 60 + 30);
    expect(report.perHour!.line).toBeGreaterThanOrEqual(report.perHour!.never);
    expect(report.resetLine).toHaveLength(17);
    expect(report.segmentTimes.filter(({ from }) => from === 'week').map(({ segment }) => segment)).toEqual([
      'rooftops',
      'lighthouse-climb',
    ]);
    for (const { from, runs } of report.segmentTimes)
      if (from === 'runs') expect(runs).toBeGreaterThanOrEqual(8);
  });

  test('agrees with a sum by hand where nothing is uncertain', async () => {
    const sure = `game: G
category: c
restart: 10
segments:
  - { id: a, time: 60, spread: 0, luck: [{ chance: 0.25, adds: 8 }] }
  - { id: b, time: 40, spread: 0, survive: 0.5 }
`;
    const { report } = await oddsOf(folderOf({ 'g.route.yaml': sure }), '--target', '105');
    // By hand: 60 + 40 + 0.25 · 8 = 102; half of the runs finish; of these three in four take 100 s and beat 105.
    expect(report.finalTime).toBeCloseTo(102, 2);
    expect(report.finishChance).toBe(0.5);
    expect(report.chance).toBe(0.375);
    // Clock for each finish: (62 + 40 · (1 + 0.5) / 2 + 10) / 0.5 = 204, what ends in a segment taking half of it.
    expect(report.clockPerFinish).toBeCloseTo(204, 1);
    // Never resetting, a run takes 102 s with its restart: 0.375 · 3600 / 102 = 13.24 an hour. Resetting where a run
    // is at 68 s after the first segment, three in four go on: 0.375 · 3600 / (62 + 10 + 0.75 · 30) = 14.29.
    expect(report.perHour!.never).toBeCloseTo(13.24, 1);
    expect(report.perHour!.line).toBeCloseTo(14.29, 1);
  });

  test('the target is the one asked for, else the week’s, else the route’s, else none', async () => {
    const routeTarget = route.replace('category: any%', 'category: any%\ntarget: "3:45"');
    const target = async (more: Record<string, string>, ...argv: string[]) =>
      (await oddsOf(folderOf({ ...files, ...more }), ...argv)).report.target;
    expect(await target({})).toBeNull();
    expect(await target({ 'lanternfall.route.yaml': routeTarget })).toBe(225);
    const own = { 'lanternfall.route.yaml': routeTarget, 'a.week.yaml': `${week}target: "3:40"\n` };
    expect(await target(own)).toBe(220);
    expect(await target(own, '--target', '3:35.5')).toBe(215.5);
  });

  test('--with counts a technique in; one that a run is better without is not tried', async () => {
    const folder = folderOf({
      ...files,
      'a.week.yaml': week.replace('in-run', 'learning').replace('in-run', 'learning'),
    });
    const bare = (await oddsOf(folder)).report;
    expect(bare.uses).toEqual([]);
    const both = (await oddsOf(folder, '--with', 'crate-vault', '--with', 'wall-kick')).report;
    expect(both.uses).toEqual(['crate-vault', 'wall-kick']);
    expect((await oddsOf(folder, '--with', 'crate-vault,wall-kick')).report).toEqual(both);
    expect(both.finalTime).toBeLessThan(bare.finalTime);
    const poor = { ...files, 'a.week.yaml': 'route: lanternfall.route.yaml\n' };
    const hopeless = folderOf({
      ...poor,
      'lanternfall.practice.yaml': practice.replace('[60, 150]', '[0, 150]'),
    });
    expect((await oddsOf(hopeless, '--with', 'crate-vault')).report.uses).toEqual([]);
  });
});

describe('the form of the day', () => {
  const ids = ['a', 'b', 'c', 'd', 'e', 'f'].map((letter) => `jump-${letter}`);
  const many = [
    'game: G\ncategory: c\nrestart: 10\nsegments:',
    ...ids.map((id) => `  - { id: at-${id}, time: 60, spread: 0.3, techniques: [${id}] }`),
    'techniques:',
    ...ids.map((id) => `  ${id}: { difficulty: 3, saves: 6, loses: 2 }`),
  ].join('\n');
  /** Six techniques on each of sixteen days; on every second day all of them land more often. */
  const uneven = [
    'route: g.route.yaml\nsessions:',
    ...Array.from({ length: 16 }, (_, day) => {
      const date = `2026-10-${String(day + 1).padStart(2, '0')}`;
      const landed = 26 + Math.min(day, 6) + (day % 2 === 0 ? 8 : -8);
      const blocks = ids.map((id) => `{ technique: ${id}, minutes: 5, landed: [${landed}, 50] }`);
      return `  - { start: ${date}T19:00, blocks: [${blocks.join(', ')}] }`;
    }),
  ].join('\n');
  const inRun = `route: g.route.yaml\nstates: { ${ids.map((id) => `${id}: in-run`).join(', ')} }\n`;
  const folderWith = (week: string, logged = uneven) =>
    folderOf({ 'g.route.yaml': many, 'g.practice.yaml': logged, 'g.week.yaml': inRun + week });

  test('is estimated, told and said where it counts', async () => {
    const { report } = await oddsOf(folderWith(''));
    const { spread, days, seconds, finishedPerDay } = report.form!;
    expect(days).toBe(16);
    // 39 and 23 of 50 lie 1.4 apart in log odds: days differ by 0.7 from their middle.
    expect(spread.low).toBeLessThan(0.7);
    expect(spread.high).toBeGreaterThan(0.7);
    expect(Math.abs(spread.mean - 0.7)).toBeLessThan(0.15);
    expect(seconds).toBeGreaterThan(1);
    // Two hours, where the week file has no days for runs.
    expect(finishedPerDay).toBeCloseTo(7200 / report.clockPerFinish, 2);
    const { out } = await routewright(folderWith(''), ['odds']);
    expect(out.replace(/\s+/g, ' ')).toMatch(
      /a day's runs are about [\d.]+ s faster or slower on average \(estimated from 16 days of logs\)\./,
    );
  });

  test('lasts as long as the week file’s runs of a day', async () => {
    const { report } = await oddsOf(folderWith('runs: { sat: 60, sun: 20, mon: 0 }\n'));
    expect(report.form!.finishedPerDay).toBeCloseTo(2400 / report.clockPerFinish, 2);
  });

  test('widens what a finished run takes, and can be switched off', async () => {
    const [counted, off] = [
      await oddsOf(folderWith('')),
      await oddsOf(folderWith('model: { form_of_day: 0 }\n')),
    ];
    expect(off.report.form).toBeNull();
    const width = ({ quantiles }: Report): number => quantiles.p90 - quantiles.p10;
    expect(width(counted.report)).toBeGreaterThan(1.02 * width(off.report));
    expect(counted.report.finalTime).toBeCloseTo(off.report.finalTime, 1);
    const { out } = await routewright(folderWith('model: { form_of_day: 0 }\n'), ['odds']);
    expect(out).not.toContain('faster or slower');
  });

  test('is not said where it makes little of the difference between runs', async () => {
    const { report } = await oddsOf(samples);
    expect(report.form!.seconds).toBeLessThan(0.1 * (report.quantiles.p90 - report.quantiles.p10));
    const { out } = await routewright(samples, ['odds']);
    expect(out).not.toContain('faster or slower');
  });
});

describe('practise or run?', () => {
  const days = `${week}days: { mon: 60, wed: 60, fri: 60 }\nruns: { sat: 120 }\ntarget: "3:30"\n`;
  const planned = { ...files, 'a.week.yaml': days };

  test('is about the hours of the week file, or those asked about', async () => {
    const folder = folderOf(planned);
    const own = (await oddsOf(folder)).report.practiseOrRun!;
    // Five hours in each of four weeks.
    expect(own).toMatchObject({ hours: 20, from: 'week' });
    expect(own.splits.map(({ practice, runs }) => practice + runs)).toEqual(own.splits.map(() => 20));
    expect(own.splits[0]).toEqual({ practice: 0, runs: 20, chance: own.runsAlone });
    expect(own.planHours).toBeLessThanOrEqual(12);
    const asked = (await oddsOf(folder, '--hours', '40')).report.practiseOrRun!;
    expect(asked).toMatchObject({ hours: 40, from: 'asked' });
    // So many hours take eight weeks.
    expect(asked.planHours).toBeGreaterThan(12);
    expect(asked.chance).toBeGreaterThanOrEqual(own.chance);
    expect((await oddsOf(folder, '--hours', '0')).report.practiseOrRun).toMatchObject({
      hours: 0,
      chance: 0,
    });
  });

  test('is said in a sentence and a table', async () => {
    const { out } = await routewright(folderOf(planned), ['odds', '--hours', '20']);
    expect(out).toMatch(/Practise or run\?\nOf the 20 h asked about, /);
    expect(out).toMatch(/\n +0 h +20 h +[<>\d]+ %\n/);
  });

  test.each<[Record<string, string>, string[], string]>([
    [planned, ['--hours', '1e9'], '--hours needs a number from 0 to 10000 such as 20, not 1e9.'],
    [planned, ['--hours', '10001'], 'not 10001.'],
    [files, ['--hours', '20'], 'and there is none: add --target 41:30'],
    [files, ['--hours', '20', '--target', '3:30'], 'write minutes for practice into the week file'],
  ])('what it cannot be asked exits 2 with a sentence', async (own, argv, sentence) => {
    const { code, out, err } = await routewright(folderOf(own), ['odds', ...argv]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(sentence);
  });

  test('is not asked without a target or a plan', async () => {
    expect((await oddsOf(folderOf(files), '--target', '3:30')).report.practiseOrRun).toBeNull();
    const noTarget = { ...files, 'a.week.yaml': days.replace(/target.*\n/, '') };
    expect((await oddsOf(folderOf(noTarget))).report.practiseOrRun).toBeNull();
  });
});

describe('odds for people', () => {
  test('says so where there is no target, and still prints the rest', async () => {
    const { code, out, err } = await routewright(folderOf(files), ['odds']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toContain('Target            None is given');
    expect(out).toContain('Best of several finished runs');
    expect(out).toContain('Segment times: all from the route.');
  });

  test('fits the terminal, and has no control characters in a pipe', async () => {
    const { out } = await routewright(samples, ['odds']);
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
    // eslint would rather see no control character here, but looking for one is what this is about.
    expect([...out].some((letter) => letter < ' ' && letter !== '\n')).toBe(false);
    const terminal = { isTTY: true, columns: 60, env: { NO_COLOR: '1' } };
    const narrow = (await routewright(samples, ['odds'], terminal)).out;
    expect(Math.max(...narrow.split('\n').map((line) => line.length))).toBeLessThanOrEqual(60);
  });

  test.each([
    [['--with', 'crate-valt'], '--with: the route has no technique crate-valt. Did you mean crate-vault?'],
    [['--target', '1:75'], '--target needs a time such as 41:30 or 92.4, not 1:75.'],
  ])('%j exits 2 with a sentence', async (argv, sentence) => {
    const { code, out, err } = await routewright(folderOf(files), ['odds', ...argv]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(sentence);
  });

  test('a route without segments is no run', async () => {
    const folder = folderOf({ 'a.route.yaml': 'game: G\ncategory: c\nsegments: []\n' });
    const { code, err } = await routewright(folder, ['odds']);
    expect(code).toBe(2);
    expect(err).toContain('The route has no segment yet');
  });
});
