import { beforeAll, describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples, textOf } from './place.ts';

interface Report {
  date: string;
  blocks: { technique: string; minutes: number; reason: string; from: string | null; rest: number }[];
  notInRuns: string[];
  changed: { technique: string; from: string; to: string; reason: string }[];
  unusedMinutes: number;
  standings: { technique: string; standing: string; since: string | null; reason: string }[];
  unusedRule: string | null;
  done: { technique: string; minutes: number }[];
  lastDate: string | null;
  nothing: { why: string; next: string | null } | null;
  swaps: { technique: string; gainPerHour: number; instead: string; insteadGainPerHour: number }[];
}

async function answer(cwd: string, ...argv: string[]) {
  const { code, out, err } = await routewright(cwd, ['tonight', '--json', ...argv]);
  return { code, err, report: JSON.parse(out) as Report };
}

/** The text for people, on one line. */
async function words(cwd: string, ...argv: string[]): Promise<string> {
  return (await routewright(cwd, ['tonight', ...argv])).out.replace(/\s+/g, ' ');
}

const week = (rest: string) => `route: lanternfall.route.yaml\n${rest}\n`;
const everyDay = (minutes: number) =>
  `days: { ${['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'].map((day) => `${day}: ${minutes}`).join(', ')} }`;
const small = (rest: string, files: Readonly<Record<string, string>> = {}) =>
  folderOf({
    'lanternfall.route.yaml': route,
    'lanternfall.practice.yaml': practice,
    'lanternfall.week.yaml': week(rest),
    ...files,
  });

/** The sample's files with other days in its week. */
function sampleWith(change: (week: string) => string): string {
  const names = ['route', 'practice', 'runs', 'week'].map((kind) => `lanternfall.${kind}.yaml`);
  const files = Object.fromEntries(names.map((name) => [name, textOf(samples, name)]));
  return folderOf({ ...files, 'lanternfall.week.yaml': change(files['lanternfall.week.yaml']!) });
}

describe('tonight on the sample', () => {
  let report: Report;
  let text: string;
  beforeAll(async () => {
    const said = await answer(samples);
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' });
    ({ report } = said);
    text = (await routewright(samples, ['tonight'])).out;
  });

  test('--json carries the promised fields first, in their order', () => {
    expect(Object.keys(report)).toEqual([
      'date',
      'blocks',
      'notInRuns',
      'changed',
      'unusedMinutes',
      'standings',
      'unusedRule',
      'done',
      'lastDate',
      'nothing',
      'swaps',
    ]);
    expect(Object.keys(report.blocks[0]!)).toEqual(['technique', 'minutes', 'reason', 'from', 'rest']);
    expect(Object.keys(report.standings[0]!)).toEqual(['technique', 'standing', 'since', 'reason']);
    expect(report).toMatchObject({ date: '2026-11-09', lastDate: '2026-11-08', done: [], nothing: null });
  });

  test('has the first day of the plan, with the places where quick repeats start', async () => {
    const plan = JSON.parse((await routewright(samples, ['plan', '--json'])).out) as {
      days: { blocks: { technique: string; minutes: number; rest: number }[] }[];
      standings: Report['standings'];
    };
    expect(report.blocks.map(({ technique, minutes, rest }) => ({ technique, minutes, rest }))).toEqual(
      plan.days[0]!.blocks,
    );
    expect(report.standings).toEqual(plan.standings);
    const routeText = textOf(samples, 'lanternfall.route.yaml');
    for (const { from } of report.blocks) expect(routeText).toContain(`from: "${from}"`);
  });

  test('leaves out of runs what lands below its break-even, and no technique that is in the run', () => {
    const standing = new Map(report.standings.map((one) => [one.technique, one.standing]));
    expect(report.notInRuns.length).toBeGreaterThan(0);
    for (const id of report.notInRuns) expect(['learning', 'again']).toContain(standing.get(id));
    expect(new Set(report.notInRuns).size).toBe(report.notInRuns.length);
  });

  test('says it in plain lines with names and the day, none too wide', () => {
    expect(text).toMatch(
      /^Tonight, Mon 2026-11-09: Lanternfall, any% \(lanternfall\.route\.yaml\)\nThe answer is for the /,
    );
    for (const name of ['Practise', 'Then', 'Why', 'Changed', 'Not in runs'])
      expect(text).toMatch(new RegExp(`^${name} +\\S`, 'm'));
    // Only minutes that stay unused get a line.
    expect(/^Unused /m.test(text)).toBe(report.unusedMinutes > 0);
    expect(text.replace(/\s+/g, ' ')).toMatch(
      /Not in runs Leave these out of runs for now: [^(]+\(lands \d+ % in a run, saves time from \d+ % on\)/,
    );
    expect(text.replace(/\s+/g, ' ')).toMatch(
      /a gamble: (about \d in 10|a little under 5 in 10) that it pays after [\d.]+ (h|min) of practice/,
    );
    // Ids are said only where they are to be written.
    const sentences = text.replaceAll(/`[^`]*`/g, '');
    for (const { technique } of report.standings.filter((one) => one.technique.includes('-')))
      expect(sentences).not.toContain(technique);
    for (const line of text.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('offers swaps in words, with the lines that make them', () => {
    expect(report.swaps.length).toBeGreaterThan(0);
    const plain = text.replace(/\s+/g, ' ');
    for (const { technique, instead, gainPerHour, insteadGainPerHour } of report.swaps) {
      expect(insteadGainPerHour).toBeGreaterThan(2 * gainPerHour);
      expect(plain).toContain(
        `To swap, write \`${technique}: unlearned\` and \`${instead}: learning\` under \`states:\` in the week file.`,
      );
    }
  });

  test('says the same twice, to the byte', async () => {
    expect((await routewright(samples, ['tonight'])).out).toBe(text);
  });
});

describe('what changed since last time', () => {
  /** Two evenings of a technique that lands nearly always, and runs in which it does. */
  const evenings = (...days: string[]) =>
    `route: lanternfall.route.yaml\nsessions:\n${days
      .map(
        (day) =>
          `  - start: ${day}T19:30\n    blocks:\n      - { technique: wall-kick, minutes: 25, landed: [148, 150] }`,
      )
      .join('\n')}\n`;

  test('compares with the morning of the last day with entries, before its entries', async () => {
    const folder = small(everyDay(60), {
      'lanternfall.practice.yaml': evenings('2026-10-05'),
    });
    const { report } = await answer(folder);
    expect(report).toMatchObject({ date: '2026-10-06', lastDate: '2026-10-05' });
    const [change] = report.changed;
    expect(report.changed.map(({ technique }) => technique)).toEqual(['wall-kick']);
    expect(change).toMatchObject({ from: 'not-begun', to: 'in-run' });
    const now = report.standings.find(({ technique }) => technique === 'wall-kick')!;
    expect(change!.reason).toBe(now.reason);
    expect(await words(folder)).toContain(
      `since the morning of Mon 2026-10-05: Wall kick went from “not begun” to “in the run”. ${now.reason}`,
    );
  });

  test('is nothing where every technique stands where it did', async () => {
    const folder = small(everyDay(60), {
      'lanternfall.practice.yaml': evenings('2026-10-05', '2026-10-06', '2026-10-07'),
    });
    const { report } = await answer(folder);
    expect(report).toMatchObject({ lastDate: '2026-10-07', changed: [] });
    expect(await words(folder)).toContain('Changed nothing since the morning of Wed 2026-10-07.');
  });

  test('compares with nothing where nothing was logged before today', async () => {
    const folder = small(everyDay(60), { 'lanternfall.practice.yaml': evenings('2026-10-05') });
    const { report } = await answer(folder, '--as-of', '2026-10-05');
    expect(report).toMatchObject({ lastDate: null, changed: [] });
    expect(report.done).toEqual([{ technique: 'wall-kick', minutes: 25 }]);
    expect(await words(folder, '--as-of', '2026-10-05')).not.toContain('Changed');
  });
});

describe('minutes of today', () => {
  test.each([
    [0, 'no minutes'],
    [5, 'too few minutes'],
    [17, 'too few minutes'],
  ])('%i min: nothing, and why', async (minutes, why) => {
    const { code, report } = await answer(
      sampleWith((text) => text.replace(/^days: .*$/m, everyDay(minutes))),
    );
    expect(code).toBe(1);
    expect(report.blocks).toEqual([]);
    expect(report.nothing).toEqual({ why, next: null });
    expect(report.unusedMinutes).toBe(minutes);
    expect(report.unusedRule).toBe(minutes === 0 ? null : 'short-block');
  });

  test.each([45, 60, 121, 600])(
    '%i min: blocks, rests and unused minutes are all of them',
    async (minutes) => {
      const folder = sampleWith((text) => text.replace(/^days: .*$/m, everyDay(minutes)));
      const { code, report } = await answer(folder);
      expect(code).toBe(0);
      expect(report.nothing).toBeNull();
      const used = report.blocks.reduce((sum, block) => sum + block.minutes + block.rest, 0);
      expect(used + report.unusedMinutes).toBe(minutes);
      expect(report.unusedRule === null).toBe(report.unusedMinutes === 0);
    },
  );

  test.each([
    [120, false],
    [121, true],
  ])('%i min a day: the caution about long days where it applies', async (minutes, long) => {
    const caution = 'take pain as a reason to stop and see a clinician';
    expect((await words(small(everyDay(minutes)))).includes(caution)).toBe(long);
  });

  test('a day without minutes names the next day that has some', async () => {
    const folder = small('days: { sat: 90 }');
    // 2026-10-07, the day after the last entry, is a Wednesday.
    const { code, report } = await answer(folder);
    expect(code).toBe(1);
    expect(report.nothing).toEqual({ why: 'no minutes', next: '2026-10-10' });
    expect(await words(folder)).toContain(
      'Today has no minutes for practice. The next practice is on Sat 2026-10-10 (90 min).',
    );
  });

  test('a day off has none, whatever its weekday has', async () => {
    const folder = small(`${everyDay(60)}\noff: [2026-10-07]`);
    const { report } = await answer(folder);
    expect(report.nothing).toEqual({ why: 'no minutes', next: '2026-10-08' });
  });

  test('what was practised today is ticked off, and the rest of the day is planned', async () => {
    const folder = small(everyDay(100));
    // 25 minutes of wall-kick were logged on 2026-10-06.
    const { report } = await answer(folder, '--as-of', '2026-10-06');
    expect(report.done).toEqual([{ technique: 'wall-kick', minutes: 25 }]);
    const planned = report.blocks.reduce((sum, { minutes, rest }) => sum + minutes + rest, 0);
    expect(planned).toBeGreaterThan(0);
    expect(planned).toBeLessThanOrEqual(100 - 25 - 5);
    expect(await words(folder, '--as-of', '2026-10-06')).toContain('Done today Wall kick 25 min.');
  });

  test('a day whose minutes are used says so', async () => {
    const folder = small(everyDay(30));
    const { code, report } = await answer(folder, '--as-of', '2026-10-06');
    expect(code).toBe(1);
    expect(report.nothing).toEqual({ why: 'minutes used', next: '2026-10-07' });
    expect(await words(folder, '--as-of', '2026-10-06')).toContain(
      "Nothing more. Today's minutes are used. The next practice is on Wed 2026-10-07 (30 min).",
    );
  });
});

describe('nothing to practise', () => {
  test('everything is competent', async () => {
    const block = (technique: string) =>
      `      - { technique: ${technique}, minutes: 25, landed: [150, 150] }`;
    const days = ['2026-10-01', '2026-10-02', '2026-10-03', '2026-10-04']
      .map((day) => `  - start: ${day}T19:30\n    blocks:\n${block('crate-vault')}\n${block('wall-kick')}`)
      .join('\n');
    const folder = small(`${everyDay(60)}\nstates: { crate-vault: in-run, wall-kick: in-run }`, {
      'lanternfall.practice.yaml': `route: lanternfall.route.yaml\nsessions:\n${days}\n`,
    });
    const { code, report } = await answer(folder, '--as-of', '2026-10-20');
    expect(code).toBe(1);
    expect(report.standings.map(({ standing }) => standing)).toEqual(['in-run', 'in-run']);
    expect(report.nothing).toEqual({ why: 'nothing left', next: null });
    expect(report).toMatchObject({ unusedMinutes: 60, unusedRule: 'nothing-to-practise', notInRuns: [] });
    expect(await words(folder, '--as-of', '2026-10-20')).toContain(
      'Every technique is in the run, and runs keep them up.',
    );
  });

  test('everything is left out', async () => {
    const folder = small(`${everyDay(60)}\nleave_out: [crate-vault, wall-kick]`);
    const { code, report } = await answer(folder);
    expect(code).toBe(1);
    expect(report).toMatchObject({ nothing: { why: 'nothing left', next: null }, notInRuns: [] });
    expect(await words(folder)).toContain('The week file leaves every technique out (leave_out:).');
  });

  test('nothing pays, however it is practised', async () => {
    const hopeless = route.replaceAll(/saves: [\d.]+, loses: [\d.]+/g, 'saves: 0.001, loses: 500');
    const folder = folderOf({
      'lanternfall.route.yaml': hopeless,
      'lanternfall.week.yaml': week(everyDay(60)),
    });
    const { code, report } = await answer(folder);
    expect(code).toBe(1);
    expect(report.nothing).toEqual({ why: 'nothing left', next: null });
    expect(await words(folder)).toContain('No technique is expected to pay in runs within the coming weeks');
  });

  test('the route has no technique', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': 'game: Lanternfall\nsegments:\n  - { id: harbor, time: 90 }\n',
      'lanternfall.week.yaml': week(everyDay(60)),
    });
    const { code, report } = await answer(folder);
    expect(code).toBe(1);
    expect(report.nothing).toEqual({ why: 'no techniques', next: null });
    expect(await words(folder)).toContain('The route has no technique yet.');
  });
});

describe('a fresh route without a log', () => {
  test('has a first evening, and compares with nothing', async () => {
    const folder = folderOf({});
    await routewright(folder, ['new', '.']);
    const { code, report } = await answer(folder, '--as-of', '2026-11-30');
    expect(code).toBe(0);
    expect(report).toMatchObject({
      date: '2026-11-30',
      lastDate: null,
      changed: [],
      notInRuns: [],
      done: [],
    });
    expect(report.blocks.length).toBeGreaterThan(0);
    expect(await words(folder, '--as-of', '2026-11-30')).toMatch(
      /^Tonight, Mon 2026-11-30: .* Nothing is logged yet/,
    );
  });

  test('is for today by the clock where no date is given', async () => {
    const folder = folderOf({});
    await routewright(folder, ['new', '.']);
    const said = await routewright(folder, ['tonight'], { now: '2026-12-01T01:30' });
    // Before 04:00 it is still the evening of the day before.
    expect(said.out).toMatch(/^Tonight, Mon 2026-11-30: /);
  });
});

test('names of a shared route are printed without their control characters', async () => {
  const folder = small(everyDay(60), {
    'lanternfall.route.yaml': route.replace('name: Wall kick', 'name: "Wall\\u001b[31m kick"'),
  });
  expect((await routewright(folder, ['tonight'])).out).not.toContain('\u001b');
});
