import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples } from './place.ts';

interface Rate {
  landed: number;
  tries: number;
  rate: number;
  low: number | null;
  high: number | null;
}
interface Report {
  asOf: string;
  unit: string | null;
  periods: { from: string; to: string }[];
  techniques: {
    technique: string;
    practice: { shown: Rate | null; points: (Rate | null)[] };
    minutes: number[];
  }[];
  times: {
    best: { start: string; seconds: number } | null;
    runs: { seconds: number; bestSoFar: number }[];
  } | null;
  practice: { hoursAWeek: number[]; allMinutes: number } | null;
  standings: { technique: string; standing: string; since: string | null; reason: string }[];
}

async function lookedBack(cwd: string, ...argv: string[]) {
  const said = await routewright(cwd, ['progress', '--json', ...argv]);
  return { ...said, report: JSON.parse(said.out) as Report };
}

describe('progress --json', () => {
  test('carries an entry for each period, in the order of the route, and the same bytes twice', async () => {
    const { code, err, out, report } = await lookedBack(samples);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(Object.keys(report)).toEqual([
      'asOf',
      'unit',
      'periods',
      'techniques',
      'times',
      'practice',
      'standings',
    ]);
    expect(report).toMatchObject({ asOf: '2026-11-09', unit: 'week' });
    expect(report.techniques.slice(0, 3).map(({ technique }) => technique)).toEqual([
      'crate-vault',
      'gate-roll',
      'lamp-clip',
    ]);
    expect(report.techniques).toHaveLength(26);
    for (const { practice: own, minutes } of report.techniques) {
      expect(own.points).toHaveLength(report.periods.length);
      expect(minutes).toHaveLength(report.periods.length);
    }
    expect(report.practice!.hoursAWeek).toHaveLength(report.periods.length);
    expect(report.times!.best).toEqual({ start: '2026-11-01T15:20', seconds: 2497.4 });
    expect(report.standings).toHaveLength(26);
    expect((await routewright(samples, ['progress', '--json'])).out).toBe(out);
  }, 300_000);

  test('agrees with review on where techniques stand', async () => {
    const { report } = await lookedBack(samples);
    const review = JSON.parse((await routewright(samples, ['review', '--json'])).out) as Report;
    expect(report.standings).toEqual(review.standings);
  }, 300_000);

  test('counts no more than what is logged', async () => {
    const { report } = await lookedBack(
      folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice }),
    );
    const minutes = report.techniques.flatMap((one) => one.minutes).reduce((sum, one) => sum + one, 0);
    expect(minutes).toBe(report.practice!.allMinutes);
    expect(report.times).toMatchObject({ best: null, runs: [] });
  });

  test('is empty where nothing is logged, exit 1', async () => {
    const { code, report } = await lookedBack(folderOf({ 'lanternfall.route.yaml': route }));
    expect(code).toBe(1);
    expect(report).toMatchObject({ unit: null, periods: [], techniques: [], times: null, practice: null });
  });
});

describe('progress for people', () => {
  test('says where nothing is logged what to do, exit 1', async () => {
    const { code, out } = await routewright(folderOf({ 'lanternfall.route.yaml': route }), ['progress']);
    expect(code).toBe(1);
    expect(out.replace(/\s+/g, ' ')).toContain('Nothing is logged yet. Log a block of practice or a run');
    expect(out).not.toContain('Hours of practice');
  });

  test('shows the months that are asked for', async () => {
    const long = practice.replace('2026-10-05', '2019-03-05');
    const folder = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': long });
    const units = async (...argv: string[]) => (await lookedBack(folder, ...argv)).report;
    expect((await units()).periods).toHaveLength(36);
    expect((await units('--months', '6')).unit).toBe('week');
    expect((await units('--months', '100')).unit).toBe('quarter');
    const { out } = await routewright(folder, ['progress', '--months', '6']);
    expect(out).toContain('In all, since 2019-03-05');
    expect(out).toContain('In the time shown');
  });

  test.each(['0', '-1', '1.5', 'six', '99999'])('refuses --months %s', async (months) => {
    const { code, err } = await routewright(samples, ['progress', `--months=${months}`]);
    expect(code).toBe(2);
    expect(err).toContain(`--months needs a whole number from 1 to 12360 such as 12, not ${months}.`);
  });

  test('ten years of logs fit narrow terminals', async () => {
    const sessions = Array.from({ length: 120 }, (_, i) => {
      const [year, month] = [2016 + Math.floor(i / 12), String((i % 12) + 1).padStart(2, '0')];
      return `  - start: ${year}-${month}-03T19:30\n    blocks:\n      - { technique: crate-vault, minutes: 25, landed: [${i % 20}, 20] }\n`;
    }).join('');
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      'lanternfall.practice.yaml': `route: lanternfall.route.yaml\nsessions:\n${sessions}`,
    });
    for (const columns of [40, 60, 80]) {
      const argv = ['progress', '--months', '120'];
      const { out } = await routewright(folder, argv, { isTTY: true, columns, env: { NO_COLOR: '1' } });
      for (const line of out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(columns);
    }
  });
});
