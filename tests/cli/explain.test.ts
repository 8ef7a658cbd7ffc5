import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples } from './place.ts';

interface Day {
  date: string;
  blocks: number;
  minutes: number;
  attempts: number;
  practice: { landed: number; tries: number };
  runs: { landed: number; tries: number };
  before: number;
  dose: number;
  level: number;
}
interface Row {
  technique: string;
  gainPerHour: number;
  gain: number;
  hours: number;
  blocks: number;
  breakEven: number;
  practiceNow: { mean: number };
  runNow: { mean: number };
}
interface Weighed {
  value: number;
  prior: number;
  now: number;
}
interface Placed {
  place: number;
  gainPerHour: number;
}
interface Alternative {
  technique: string;
  cycle: { now: number; then: number };
  attemptsPerMinute: { now: number; then: number };
  now: Placed | null;
  then: Placed | null;
}
interface Explained {
  asOf: string;
  place: number | null;
  row: Row | null;
  days: Day[];
  effective: number;
  level: number;
  breakEven: number;
  suddenness: Weighed[];
  ceiling: Weighed[];
  floor: Weighed[];
  worth: { rate: number; seconds: number }[];
  uses: { saves: { mean: number }; misses: { loses: number }[] }[];
  forecast: {
    steps: { blocks: number; hours: number; gain: number; gainPerHour: number }[];
    blocks: number;
  } | null;
  notRanked: string | null;
  halvedCycle: Alternative | null;
  alternatives: Alternative[];
}

async function explained(cwd: string, technique: string, ...argv: string[]) {
  const said = await routewright(cwd, ['rank', '--explain', technique, '--json', ...argv]);
  return { ...said, report: JSON.parse(said.out) as Explained };
}

const kept = new Map<string, ReturnType<typeof explained>>();
function sample(technique: string) {
  const known = kept.get(technique) ?? explained(samples, technique, '--all');
  kept.set(technique, known);
  return known;
}

/** Days since 1970-01-01 of a date. */
const dayOf = (date: string): number => Date.parse(date) / 86_400_000;

describe('rank --explain', () => {
  test('is the row of the ranking, at its place', async () => {
    const { code, err, report } = await sample('bell-cancel');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const { rows } = JSON.parse((await routewright(samples, ['rank', '--json', '--all'])).out) as {
      rows: Row[];
    };
    const index = rows.findIndex(({ technique }) => technique === 'bell-cancel');
    expect(report.place).toBe(index + 1);
    expect(report.row!.gainPerHour).toBeCloseTo(rows[index]!.gainPerHour, 3);
  });

  test('lets effective practice be worked out again from the log alone', async () => {
    const { report } = await sample('bell-cancel');
    expect(report.days.length).toBeGreaterThan(4);
    // The rule as it is printed, written a second time: 207 min, 0.2 a night, ln(1 + E/10) halving in 195 days.
    let effective = 0;
    let dose = 0;
    let last: number | undefined;
    const idle = (e: number, days: number): number =>
      days <= 0 ? e : 10 * Math.expm1(Math.log1p(e / 10) * 2 ** (-days / 195));
    for (const day of report.days) {
      const now = dayOf(day.date);
      if (last !== undefined) effective = idle(effective + 0.2 * dose, now - last - 1);
      expect(day.before).toBeCloseTo(effective, 1);
      // One block a day in this stretch of the sample: n · (207/m) · (1 − e^(−m/207)), and 1 for an attempt in a run.
      expect(day.blocks).toBe(1);
      dose = day.attempts * (207 / day.minutes) * (1 - Math.exp(-day.minutes / 207));
      expect(day.dose).toBeCloseTo(dose, 1);
      effective += dose;
      expect(day.level).toBeCloseTo(Math.log(1 + effective / 10), 3);
      last = now;
    }
    expect(report.effective).toBeCloseTo(idle(effective + 0.2 * dose, dayOf(report.asOf) - last! - 1), 0);
    expect(report.level).toBeCloseTo(Math.log(1 + report.effective / 10), 3);
  });

  test('shows how the break-even and the gain per hour come about', async () => {
    const { report } = await sample('bell-cancel');
    const [use] = report.uses;
    // S: the simple case of a bet with two outcomes, loses / (saves + loses).
    expect(report.breakEven).toBeCloseTo(
      use!.misses[0]!.loses / (use!.saves.mean + use!.misses[0]!.loses),
      4,
    );
    const { steps, blocks } = report.forecast!;
    expect(steps[blocks]!.gain / steps[blocks]!.hours).toBeCloseTo(report.row!.gainPerHour, 3);
    for (const step of steps) expect(step.gainPerHour).toBeLessThanOrEqual(report.row!.gainPerHour + 1e-6);
    // Certain to land, it saves what the route says, and the hundredth part of the clock that follows from it.
    expect(report.worth.at(-1)!.seconds).toBeGreaterThan(use!.saves.mean * 0.99);
    expect(report.worth.at(-1)!.seconds).toBeLessThan(use!.saves.mean * 1.02);
    expect(report.worth[0]).toEqual({ rate: 0, seconds: 0 });
  });

  test('gives shares that add up, before the logs and with them', async () => {
    for (const technique of ['bell-cancel', 'rope-swing', 'gable-cut']) {
      const { report } = await sample(technique);
      for (const weighed of [report.suddenness, report.ceiling, report.floor]) {
        expect(weighed.reduce((sum, { prior }) => sum + prior, 0)).toBeCloseTo(1, 4);
        expect(weighed.reduce((sum, { now }) => sum + now, 0)).toBeCloseTo(1, 4);
      }
    }
  });

  test('begins with five plain lines, and has no formula without --numbers', async () => {
    const { code, out } = await routewright(samples, ['rank', '--explain', 'bell-cancel', '--all']);
    expect(code).toBe(0);
    const [title, empty, standing, ...lines] = out.replaceAll(/\n {3}/g, ' ').split('\n');
    expect([title, empty]).toEqual(['Bell cancel', '']);
    expect(standing).toMatch(/^In the run\. The chance that trying it in runs pays is [a-z ]*\d+ %: /);
    expect(lines[0]).toMatch(
      /^It lands \d+ % of the time in a run now \(.*\)\. Trying it pays from its break-even on: 31 %\.$/,
    );
    expect(lines[1]).toMatch(
      /^One block of 25 min is expected to bring it to \d+ % in a run and to save \S+ s\.$/,
    );
    expect(lines[2]).toMatch(/^The chance that it pays by then is \d+ %\. In 8 of 10 cases it lands /);
    expect(lines[3]).toBe('It needs no other technique, and none needs it.');
    expect(lines[4]).toMatch(/^Try it in runs; practice of it has place \d+ of \d+\.$/);
    expect(lines[5]).toBe('');
    expect(out).not.toMatch(/ln\(|[·κ=]/);
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  test('advises what the standing of the technique says, wherever it is ranked', async () => {
    const advice = async (technique: string): Promise<string | undefined> => {
      const { out } = await routewright(samples, ['rank', '--as-of', 'last', '--explain', technique]);
      return out.replaceAll(/\n {3}/g, ' ').split('\n')[7];
    };
    expect(await advice('net-climb')).toMatch(
      /^Practise it before anything new; its practice has place \d+ of \d+\.$/,
    );
    expect(await advice('tide-skip')).toMatch(
      /^Go on practising it: it is in the practice set; its practice has place \d+ of \d+\.$/,
    );
    expect(await advice('blind-line')).toMatch(/^Practise it (next|soon|later): /);
  });

  test('calls a gamble what it is, and says how the first places rest on the worth of a second lost to resets', async () => {
    const { out } = await routewright(samples, ['rank', '--explain', 'tide-skip']);
    const text = out.replaceAll(/\s+/g, ' ');
    expect(text).toMatch(/That is a gamble: .* in 10 that it pays by then\./);
    expect(text).toContain('31 %, with a second lost to resets counted as 0.01 s (clock_weight)');
    expect(text).toMatch(
      /The first three places change with it: at 0\.0025 s .*Tide skip.*; at 0\.01 s .*; at 0\.04 s /,
    );
  });

  test('--numbers without --explain is refused with a way out', async () => {
    const { code, err } = await routewright(folderOf({ 'a.route.yaml': route }), ['rank', '--numbers']);
    expect(code).toBe(2);
    expect(err).toContain('--numbers goes with --explain TECHNIQUE');
  });

  test('reads for people, within the width of a page', async () => {
    const page = { env: { COLUMNS: '100' } };
    const argv = ['rank', '--explain', 'bell-cancel', '--numbers', '--all'];
    const { out } = await routewright(samples, argv, page);
    expect(out).toContain('Break-even: 31.3 % = 2.00 / (4.40 + 2.00), loses / (saves + loses).');
    expect(out).toMatch(/\n2026-11-0\d +\d+ +\d+ +\d+\/\d+ /);
    expect(out).toContain('A quicker repeat');
    expect(out).toContain('195 days: time in which half of an unused log gain is lost');
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  test('explains what is in the run, and what is not ranked, too', async () => {
    const { report } = await sample('rope-swing');
    expect(report.row).not.toBeNull();
    const dry = `${route}  oil-slick: { difficulty: 4, saves: 5, loses: 1 }\n`.replace(
      'segments:\n',
      'segments:\n  - { id: press-room, time: 50, techniques: [{ use: oil-slick, with: oil }] }\n',
    );
    const idle = await explained(folderOf({ 'a.route.yaml': dry }), 'oil-slick');
    expect(idle.report).toMatchObject({ row: null, place: null });
    expect(idle.report.notRanked).toMatch(/item oil, which nothing that can be practised picks up/);
  });

  test('says with what a row is counted that comes after others of its spot or item', async () => {
    const { out } = await routewright(samples, ['rank', '--explain', 'oil-slick', '--numbers']);
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(
      /Counted with what comes before it in the order .*: [A-Z][a-z -]+, which lands \d+ %/,
    );
  });

  test('a name nobody knows exits 2', async () => {
    const { code, out, err } = await routewright(folderOf({ 'a.route.yaml': route }), [
      'rank',
      '--explain',
      'crate-valt',
    ]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('--explain: the route has no technique crate-valt. Did you mean crate-vault?');
  });
});

describe('rank --cycle', () => {
  const files = { 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice };
  const timed = {
    ...files,
    'lanternfall.route.yaml': route.replace('loses: 1.4', 'loses: 1.4, practice: { attempt: 8, reload: 2 }'),
  };

  test('adds what the rank becomes, and leaves the table as it is', async () => {
    const folder = folderOf(timed);
    const plain = JSON.parse((await routewright(folder, ['rank', '--json', '--all'])).out) as Record<
      string,
      unknown
    >;
    const said = await routewright(folder, ['rank', '--json', '--all', '--cycle', 'crate-vault=5']);
    const { alternatives, ...rest } = JSON.parse(said.out) as { alternatives: Alternative[] };
    expect(said.code).toBe(0);
    expect(rest).toEqual(plain);
    expect(alternatives).toHaveLength(1);
    const [one] = alternatives;
    expect(one!.cycle).toEqual({ now: 10, then: 5 });
    // The log counts 150 attempts in 25 min, one in 10 s: just the cycle. At 5 s it is 12 a minute.
    expect(one!.attemptsPerMinute).toEqual({ now: 6, then: 12 });
    expect(one!.then!.gainPerHour).toBeGreaterThan(one!.now!.gainPerHour);
    expect(one!.then!.place).toBeLessThanOrEqual(one!.now!.place);
  });

  test('the cycle it has changes nothing; a quicker one never gains less', async () => {
    const folder = folderOf(timed);
    const cycles = [10, 9, 7, 5, 3, 1].map((seconds) => `--cycle=crate-vault=${seconds}`);
    const { out } = await routewright(folder, ['rank', '--json', '--all', ...cycles]);
    const { alternatives } = JSON.parse(out) as { alternatives: Alternative[] };
    expect(alternatives[0]!.then).toEqual(alternatives[0]!.now);
    alternatives.slice(1).forEach(({ then }, i) => {
      expect(then!.gainPerHour).toBeGreaterThanOrEqual(alternatives[i]!.then!.gainPerHour);
    });
  });

  test('says it in a sentence, and refuses what it does not know', async () => {
    const folder = folderOf(timed);
    const { out } = await routewright(folder, ['rank', '--all', '--cycle', 'crate-vault=5']);
    expect(out).toContain('With a quicker repeat');
    expect(out.replaceAll(/\s+/g, ' ')).toContain(
      'An attempt every 5 s instead of 10 (12.0 attempts a minute instead of 6.0)',
    );
    const wrong = await routewright(folder, ['rank', '--cycle', 'crate-valt=5']);
    expect(wrong).toMatchObject({ code: 2, out: '' });
    expect(wrong.err).toContain('Did you mean crate-vault?');
  });
});
