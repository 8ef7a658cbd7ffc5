import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, textOf } from './place.ts';

const now = '2026-10-09T19:30';
const alone = { 'lanternfall.route.yaml': route };
const week = 'route: lanternfall.route.yaml\ndays: { mon: 60, tue: 60, wed: 60, thu: 60, fri: 60 }\n';
const logged = {
  ...alone,
  'lanternfall.practice.yaml': practice,
  'lanternfall.week.yaml': week,
  'lanternfall.runs.yaml':
    'route: lanternfall.route.yaml\nruns:\n  - { start: 2026-10-07T20:00, tried: { wall-kick: [1, 1] }, times: { harbor: "1:31", stairs: "2:09" }, total: "3:40" }\n',
};
/** The same, and what a mistyped month adds. */
const withLater = {
  ...logged,
  'lanternfall.practice.yaml': `${practice}  - start: 2026-12-08T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [150, 150] }
`,
  'lanternfall.runs.yaml': `${logged['lanternfall.runs.yaml']}  - { start: 2026-12-08T20:00, tried: { crate-vault: [1, 1] }, times: { harbor: "1:10", stairs: "1:50" }, total: "3:00" }
`,
};

/** Every command that answers for a day. */
const dated = [
  ['check'],
  ['rank'],
  ['rank', '--explain', 'crate-vault'],
  ['plan'],
  ['odds'],
  ['review'],
  ['progress'],
  ['compare', 'lanternfall.route.yaml', 'lanternfall.route.yaml'],
].map((argv) => [argv] as const);

/** What a command prints, as one line. */
async function printed(folder: string, argv: readonly string[], at: string): Promise<string> {
  const { out, code, err } = await routewright(folder, argv, { now: at });
  expect(code, err).toBeLessThan(2);
  return out.replace(/\s+/g, ' ');
}

describe('the day of an answer', () => {
  test.each(dated)('%j is for today, and says so', async (argv) => {
    const folder = folderOf(logged);
    expect(await printed(folder, argv, now)).toContain('2026-10-09');
    // Before the day's start it is still the evening before.
    expect(await printed(folder, argv, '2026-10-10T02:00')).toBe(await printed(folder, argv, now));
    expect(await printed(folder, argv, '2026-10-10T05:00')).toContain('2026-10-10');
  });

  test.each(dated)('%j is for today where nothing is logged, also with --as-of last', async (argv) => {
    const folder = folderOf(alone);
    for (const options of [[], ['--as-of', 'last'], ['--json'], ['--json', '--as-of', 'last']]) {
      const out = await printed(folder, [...argv, ...options], now);
      if (!(argv[0] === 'check' && options.includes('--json'))) expect(out).toContain('2026-10-09');
      expect(out).not.toContain('1970');
    }
  });

  test.each(dated)('%j --as-of last says the same whenever it is asked', async (argv) => {
    const folder = folderOf(logged);
    const options = ['--as-of', 'last'];
    const soon = await printed(folder, [...argv, ...options], now);
    expect(soon).toContain('2026-10-08');
    expect(await printed(folder, [...argv, ...options], '2031-05-01T10:00')).toBe(soon);
  });

  test.each(dated.slice(1))('%j counts nothing dated later', async (argv) => {
    for (const options of [['--json'], ['--json', '--as-of', 'last']]) {
      const plain = await printed(folderOf(logged), [...argv, ...options], now);
      expect(await printed(folderOf(withLater), [...argv, ...options], now)).toBe(plain);
      // Once that day has come, it counts.
      expect(await printed(folderOf(withLater), [...argv, ...options], '2026-12-09T19:30')).not.toBe(plain);
    }
  });

  test('check reports what is dated later, without being given a date', async () => {
    const folder = folderOf(withLater);
    const codesAt = async (at: string) => {
      const { findings } = JSON.parse(await printed(folder, ['check', '--json'], at)) as {
        findings: { code: string; severity: string; message: string }[];
      };
      return findings.filter(({ code }) => code === 'date-in-future');
    };
    const found = await codesAt(now);
    expect(found.map(({ severity }) => severity)).toEqual(['warning', 'warning']);
    expect(found[0]!.message).toContain('2026-10-09');
    expect(await codesAt('2026-12-08T21:00')).toEqual([]);
  });

  test('plan: the calendar begins today, also where nothing is logged', async () => {
    const folder = folderOf({ ...alone, 'lanternfall.week.yaml': week });
    await printed(folder, ['plan', '--ics', 'week.ics'], now);
    const days = [...textOf(folder, 'week.ics').matchAll(/DTSTART[^:]*:(\d{8})/g)].map(([, day]) => day);
    expect(days[0]).toBe('20261009');
    expect(textOf(folder, 'week.ics')).not.toContain('1970');
  });

  test('an answer for today says how old the last log entry is, from a week on', async () => {
    const folder = folderOf(logged);
    expect(await printed(folder, ['rank'], '2026-10-13T19:30')).not.toContain('days old');
    expect(await printed(folder, ['rank'], '2026-10-14T19:30')).toContain(
      'The answer is for the morning of 2026-10-14, today. The last log entry is 7 days old.',
    );
    const asked = ['rank', '--as-of', '2026-11-14'];
    expect(await printed(folder, asked, '2026-11-28T19:30')).toContain(
      'The answer is for the morning of 2026-11-14, as asked.',
    );
  });
});
