import ICAL from 'ical.js';
import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples, textOf } from './place.ts';

interface Report {
  asOf: string;
  set: string[];
  days: {
    date: string;
    blocks: { technique: string; minutes: number; rest: number }[];
    runMinutes: number;
  }[];
  forecast: { date: string; gain: number; low: number; high: number }[];
  oneSession: { gain: number };
  gap: { method: string; value: number; bound: number | null };
  notes: string[];
}

async function planned(cwd: string, ...argv: string[]) {
  const said = await routewright(cwd, ['plan', '--json', ...argv]);
  return { ...said, report: JSON.parse(said.out) as Report };
}

let sample: ReturnType<typeof planned> | undefined;
const plannedSample = () => (sample ??= planned(samples));

/** The sample's files with other days in its week. */
function sampleWith(change: (week: string) => string): string {
  const names = ['route', 'practice', 'runs', 'week'].map((kind) => `lanternfall.${kind}.yaml`);
  const files = Object.fromEntries(names.map((name) => [name, textOf(samples, name)]));
  return folderOf({ ...files, 'lanternfall.week.yaml': change(files['lanternfall.week.yaml']!) });
}

const week = (rest: string) => `route: lanternfall.route.yaml\n${rest}\n`;
const small = (rest: string) =>
  folderOf({
    'lanternfall.route.yaml': route,
    'lanternfall.practice.yaml': practice,
    'lanternfall.week.yaml': week(rest),
  });

describe('plan --json', () => {
  test('carries exactly the promised fields in their order, for four weeks', async () => {
    const { code, report, err } = await plannedSample();
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(Object.keys(report)).toEqual([
      ...['asOf', 'set', 'days', 'forecast', 'oneSession', 'gap', 'notes', 'swaps', 'standings'],
    ]);
    expect(Object.keys(report.days[0]!)).toEqual(['date', 'blocks', 'runMinutes', 'unused']);
    expect(Object.keys(report.days[0]!.blocks[0]!)).toEqual(['technique', 'minutes', 'rest']);
    expect(Object.keys(report.forecast[0]!)).toEqual(['date', 'gain', 'low', 'high']);
    expect(Object.keys(report.oneSession)).toEqual(['gain']);
    expect(Object.keys(report.gap)).toEqual(['method', 'value', 'bound']);
    expect(report.asOf).toBe('2026-11-09');
    expect(report.days.map(({ date }) => date)).toEqual(
      Array.from({ length: 28 }, (_, d) => new Date(Date.UTC(2026, 10, 9 + d)).toISOString().slice(0, 10)),
    );
    expect(report.forecast[0]!.date).toBe('2026-11-10');
    expect(report.gap.value).toBeLessThanOrEqual(report.gap.bound!);
  });

  test('says the same twice, to the byte', async () => {
    const once = await plannedSample();
    expect((await routewright(samples, ['plan', '--json'])).out).toBe(once.out);
    expect(once.out).not.toMatch(/\d\.\d{7}/);
  });

  test('keeps days off free and run time on its days', async () => {
    const { report } = await plannedSample();
    const on = (date: string) => report.days.find((day) => day.date === date)!;
    // 2026-11-20 is a day off in the sample, a Friday; runs are on Saturdays.
    expect(on('2026-11-20').blocks).toEqual([]);
    expect(on('2026-11-14')).toMatchObject({ blocks: [], runMinutes: 120 });
    expect(on('2026-11-13').blocks.length).toBeGreaterThan(1);
    expect(on('2026-11-15')).toMatchObject({ blocks: [], runMinutes: 0 });
  });

  test('two hours a day give four to six techniques in blocks of 20 to 30 minutes, the same until one may leave', async () => {
    const folder = sampleWith((text) =>
      text.replace(/^days: .*$/m, 'days: { mon: 120, tue: 120, wed: 120, thu: 120, fri: 120 }'),
    );
    const { report } = await planned(folder);
    const days = report.days.filter(({ blocks }) => blocks.length > 0);
    expect(days.length).toBe(19); // four weeks of five days, one of them off
    for (const { blocks } of days) {
      const techniques = new Set(blocks.map(({ technique }) => technique));
      expect(techniques.size).toBeGreaterThanOrEqual(4);
      expect(techniques.size).toBeLessThanOrEqual(6);
      const total = blocks.reduce((sum, { minutes, rest }) => sum + minutes + rest, 0);
      expect(total).toBeLessThanOrEqual(120);
      for (const { minutes } of blocks) {
        expect(minutes).toBeGreaterThanOrEqual(20);
        expect(minutes).toBeLessThanOrEqual(30);
      }
    }
    // Five are in the set and four blocks fit: each of them has one within two days, and no other has.
    const first = new Set(days.slice(0, 2).flatMap(({ blocks }) => blocks.map(({ technique }) => technique)));
    expect([...first].sort()).toEqual([...report.set].sort());
    expect(report.oneSession.gain).toBeGreaterThan(0);
    expect(report.oneSession.gain).toBeLessThan(report.forecast.at(-1)!.gain);
  });

  test('what is pinned stays, what is left out is never planned', async () => {
    const folder = sampleWith(
      (text) => `${text}pin: [lamp-throw, lamp-clip]\nleave_out: [blind-line, chimney-kick]\n`,
    );
    const { report } = await planned(folder, '--weeks', '2');
    const techniques = report.days.flatMap(({ blocks }) => blocks.map(({ technique }) => technique));
    expect(report.set).toContain('lamp-clip');
    expect(techniques).not.toContain('blind-line');
    expect(techniques).not.toContain('chimney-kick');
    expect(
      report.days
        .slice(7)
        .flatMap(({ blocks }) => blocks)
        .map(({ technique }) => technique),
    ).toContain('lamp-clip');
    expect(report.days).toHaveLength(14);
  });

  test('a small week is the best of all plans', async () => {
    const { report } = await planned(small('days: { wed: 30, thu: 30, fri: 30 }'), '--weeks', '1');
    expect(report.gap).toEqual({ method: 'exhaustive', value: report.gap.value, bound: report.gap.value });
    expect(report.forecast).toHaveLength(7);
  });

  test('today’s practice counts: the rest of the day is planned, and no technique beyond its hour', async () => {
    const folder = small('days: { mon: 100, tue: 100 }');
    // 25 minutes of wall-kick were logged on Tuesday, 2026-10-06.
    const { report } = await planned(folder, '--as-of', '2026-10-06');
    const today = report.days[0]!.blocks;
    const total = today.reduce((sum, { minutes, rest }) => sum + minutes + rest, 0);
    expect(total).toBeGreaterThan(0);
    expect(total).toBeLessThanOrEqual(100 - 25 - 5);
    const kicks = today.filter(({ technique }) => technique === 'wall-kick');
    expect(kicks.reduce((sum, { minutes }) => sum + minutes, 25)).toBeLessThanOrEqual(60);
  });
});

describe('plan for people', () => {
  test('prints a calm week: days, blocks, rests, run time, forecast', async () => {
    const { code, out, err } = await routewright(samples, ['plan', '--weeks', '1']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(
      /^Lanternfall, any% \(lanternfall\.route\.yaml\)\nThe answer is for the morning of 2026-11-09/,
    );
    expect(out).toMatch(/Mon 2026-11-09 +\S.* 2\d min +5 min\n/);
    expect(out).toMatch(/Sat 2026-11-14 +Runs +120 min\n/);
    expect(out).toMatch(/Sun 2026-11-15 +free\n/);
    expect(out).toMatch(/morning of 2026-11-16 +[\d.]+ s +[\d.]+ to [\d.]+ s/);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(100);
  });

  test('warns over long days and names pain as a reason to stop', async () => {
    const { out } = await routewright(small('days: { wed: 200 }'), ['plan', '--weeks', '1']);
    expect(out.replace(/\s+/g, ' ')).toContain('take pain as a reason to stop and see a clinician');
  });

  test('says so where there is nothing to plan', async () => {
    const none = await routewright(small('runs: { sat: 60 }'), ['plan']);
    expect(none.code).toBe(1);
    expect(none.out).toContain('sets no minutes aside for practice');
    const short = await routewright(small('days: { mon: 15 }'), ['plan']);
    expect(short.code).toBe(1);
    expect(short.out).toContain('No day has the 20 minutes');
  });

  test.each([
    [['--weeks', '0'], /--weeks needs a whole number from 1 to 12/],
    [['--weeks', '2.5'], /--weeks needs/],
    [['--at', '25:00'], /--at needs a time of day/],
  ])('refuses %j', async (argv, message) => {
    const { code, out, err } = await routewright(samples, ['plan', ...argv]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(message);
  });
});

/** The events of a calendar file, read back by another library. */
function events(text: string): ICAL.Event[] {
  return new ICAL.Component(ICAL.parse(text) as unknown[])
    .getAllSubcomponents('vevent')
    .map((v) => new ICAL.Event(v));
}

describe('plan --ics', () => {
  test('has an event for each session and each time for runs, read back by ical.js', async () => {
    const folder = sampleWith((text) => text);
    const { report, err, code } = await planned(folder, '--ics', 'week.ics', '--weeks', '2', '--at', '18:15');
    expect(code).toBe(0);
    expect(err).toContain('sessions start at 18:15');
    const read = events(textOf(folder, 'week.ics'));
    const sessions = report.days.filter(({ blocks }) => blocks.length > 0);
    const runs = report.days.filter(({ runMinutes }) => runMinutes > 0);
    expect(read).toHaveLength(sessions.length + runs.length);
    for (const { date, blocks } of sessions) {
      const event = read.find(({ uid }) => uid.startsWith(`practice-${date}-`))!;
      // Floating: 18:15 on the runner's own clock, in whatever zone.
      expect(event.startDate.toString()).toBe(`${date}T18:15:00`);
      expect(event.startDate.zone.tzid).toBe('floating');
      expect(event.duration.toSeconds()).toBe(
        60 * blocks.reduce((sum, { minutes, rest }) => sum + minutes + rest, 0),
      );
      for (const { minutes } of blocks) expect(event.description).toContain(`${minutes} min`);
    }
    expect(read.find(({ uid }) => uid.startsWith('runs-'))!.duration.toSeconds()).toBe(120 * 60);
  });

  test('a later plan has the same ids and a higher sequence, so that importing it updates', async () => {
    const folder = sampleWith((text) => text);
    await planned(folder, '--ics', 'a.ics', '--weeks', '2');
    await planned(folder, '--ics', 'b.ics', '--weeks', '2', '--as-of', '2026-11-10', '--at', '20:00');
    const [before, after] = ['a.ics', 'b.ics'].map((name) => events(textOf(folder, name)));
    const ids = (list: ICAL.Event[]) => new Set(list.map(({ uid }) => uid));
    expect(ids(before!).size).toBe(before!.length);
    const shared = [...ids(after!)].filter((id) => ids(before!).has(id));
    expect(shared.length).toBeGreaterThan(7);
    for (const id of shared) {
      const of = (list: ICAL.Event[]) => list.find(({ uid }) => uid === id)!.sequence;
      expect(of(after!)).toBeGreaterThan(of(before!));
    }
    // The same plan again writes the same bytes in place of the first.
    const text = textOf(folder, 'a.ics');
    await planned(folder, '--ics', 'a.ics', '--weeks', '2');
    expect(textOf(folder, 'a.ics')).toBe(text);
  });

  test('leaves a file alone that is no calendar', async () => {
    const folder = sampleWith((text) => text);
    const { code, err } = await routewright(folder, ['plan', '--ics', 'lanternfall.week.yaml']);
    expect(code).toBe(2);
    expect(err).toContain('exists and is no calendar');
    expect(textOf(folder, 'lanternfall.week.yaml')).toBe(textOf(samples, 'lanternfall.week.yaml'));
  });
});
