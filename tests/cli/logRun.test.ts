import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { goodWeeks } from '../helpers/badEvening.ts';
import { Desk } from '../helpers/desk.ts';
import { routewright, samples } from './place.ts';

interface Seen {
  landed: number;
  tries: number;
  mean: number;
}
interface Row {
  technique: string;
  practice: Seen;
  run: Seen;
  week: { practice: object; run: { landed: number; tries: number } };
  verdict: string;
  state: string;
}

const files = ['route', 'practice', 'runs', 'week'].map((kind) => `lanternfall.${kind}.yaml`);

test('the review before and after a run that is logged differ in the way the run says', async () => {
  const desk = new Desk(
    Object.fromEntries(files.map((name) => [name, readFileSync(join(samples, name), 'utf8')])),
    '2026-11-09T12:00',
  );
  const reviewed = async () => {
    const { out } = await routewright(desk.folder, ['review', '--json']);
    const report = JSON.parse(out) as { asOf: string; techniques: Row[] };
    return { asOf: report.asOf, rows: new Map(report.techniques.map((row) => [row.technique, row])) };
  };
  const before = await reviewed();
  // Logged the next day, on the day of the last entry: all reviews are for 2026-11-09.
  const said = await desk.log(
    ...['--run', '--at', '2026-11-08T23:10', '--total', '42:30.5'],
    ...['--tried', 'wall-kick=0/3', '--tried', 'gate-roll=4/4'],
  );
  const after = await reviewed();
  expect(after.asOf).toBe(before.asOf);
  expect([...after.rows.keys()]).toEqual([...before.rows.keys()]);

  const pair = (id: string) => [before.rows.get(id)!, after.rows.get(id)!] as const;
  const counts = (id: string) => {
    const [was, is] = pair(id);
    return {
      run: [is.run.landed - was.run.landed, is.run.tries - was.run.tries],
      week: [is.week.run.landed - was.week.run.landed, is.week.run.tries - was.week.run.tries],
    };
  };
  const rise = (id: string): number => pair(id)[1].run.mean - pair(id)[0].run.mean;
  expect(counts('wall-kick')).toEqual({ run: [0, 3], week: [0, 3] });
  expect(counts('gate-roll')).toEqual({ run: [4, 4], week: [4, 4] });
  expect(rise('wall-kick')).toBeLessThan(-0.03);
  expect(rise('gate-roll')).toBeGreaterThan(0.002);

  const others = [...before.rows.keys()].filter((id) => id !== 'wall-kick' && id !== 'gate-roll');
  expect(others).toHaveLength(24);
  for (const id of others) {
    const [was, is] = pair(id);
    const told = ({ practice, run, week, verdict, state }: Row) => ({
      counts: [practice.landed, practice.tries, run.landed, run.tries, week],
      verdict,
      state,
    });
    expect(told(is), id).toEqual(told(was));
    // The one thing that all share is what the runner loses in runs: it moves all a little, and one way.
    expect(rise(id), id).toBeLessThanOrEqual(0);
    expect(rise(id), id).toBeGreaterThan(rise('wall-kick') / 3);
  }

  expect(said.out).toMatch(
    /^Logged: a run of 42:30\.5, Wall kick 0 of 3 landed, Gate roll 4 of 4 landed\.\n/,
  );
  expect(said.out).toContain('The run tried Gate roll and Wall kick.');
  const share = (id: string): string[] => pair(id).map(({ run }) => `${Math.round(100 * run.mean)} %`);
  for (const [name, id, made] of [
    ['Wall kick', 'wall-kick', '0/3'],
    ['Gate roll', 'gate-roll', '4/4'],
  ] as const) {
    const [was, is] = share(id);
    expect(said.out).toMatch(
      new RegExp(`^${name} +${made} +${was!} \\(.*\\) +${is!} \\(.*\\) +\\d+ %$`, 'm'),
    );
  }
});

test('a run after which a technique stands elsewhere: from where to where, and why', async () => {
  const desk = new Desk(goodWeeks);
  desk.clock.pass((3 * 24 + 3) * 3600);
  const run = async (day: number, landed: string) =>
    (
      await desk.log(...['--run', '--at', `2026-10-0${day}T21:00`, '--total', '7:31', '--tried', landed])
    ).out.replaceAll(/\s+/g, ' ');
  expect(await run(7, 'gate-roll=18/22')).toContain('Every technique stands where it stood before the run');
  const out = await run(8, 'lamp-hop=2/12');
  expect(out).toContain('Lamp hop: in the run → to work on again. It landed 12 of 24 in the last week');
  expect(out).not.toContain('Gate roll: in the run →');
});
