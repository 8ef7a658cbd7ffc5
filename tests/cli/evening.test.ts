import { describe, expect, test } from 'vitest';
import { evening, goodWeeks, runsText } from '../helpers/badEvening.ts';
import { folderOf, routewright } from './place.ts';

const folder = folderOf({
  ...goodWeeks,
  'lanternfall.runs.yaml': runsText(evening('2026-10-08', '[5, 22]', '[2, 12]')),
});

interface Stands {
  technique: string;
  standing: string;
  since: string | null;
  reason: string;
}
interface Carries {
  standings: Stands[];
}
type Reviewed = Carries & { techniques: { technique: string; verdict: string; reason: string }[] };
type Ranked = Carries & { rows: { technique: string }[] };
type Planned = Carries & { days: { date: string; blocks: { technique: string }[] }[] };
interface Checked {
  findings: { code: string; message: string }[];
}

const answers = new Map<string, Promise<unknown>>();
/** What a command prints with `--json`; each command runs once. */
function answer<T>(command: string): Promise<T> {
  const known =
    answers.get(command) ??
    routewright(folder, [command, '--json']).then(({ out }) => JSON.parse(out) as unknown);
  answers.set(command, known);
  return known as Promise<T>;
}

const slipped = ['gate-roll', 'lamp-hop'] as const;
const of = ({ standings }: Carries, id: string): Stands =>
  standings.find(({ technique }) => technique === id)!;

describe('an evening on which two techniques of the run landed 5 of 22 and 2 of 12', () => {
  test('`review`, `rank` and `plan` say the same of every technique', async () => {
    const { standings } = await answer<Reviewed>('review');
    expect(standings.map(({ technique, standing }) => [technique, standing])).toEqual([
      ['gate-roll', 'again'],
      ['lamp-hop', 'again'],
      ['rope-swing', 'learning'],
      ['wall-kick', 'learning'],
    ]);
    expect((await answer<Ranked>('rank')).standings).toEqual(standings);
    expect((await answer<Planned>('plan')).standings).toEqual(standings);
  });

  test('`review` calls both slipped, with the count of the evening', async () => {
    const { techniques } = await answer<Reviewed>('review');
    const row = (id: string) => techniques.find(({ technique }) => technique === id)!;
    expect(slipped.map((id) => row(id).verdict)).toEqual(['slipped', 'slipped']);
    expect(row('gate-roll').reason).toContain('It landed 5 of 22 in the last week');
    expect(row('lamp-hop').reason).toContain('It landed 2 of 12 in the last week');
    for (const id of slipped)
      expect(row(id).reason).toContain(of(await answer<Reviewed>('review'), id).reason);
  });

  test('`check` finds both, and says the sentence of their standing', async () => {
    const { findings } = await answer<Checked>('check');
    const found = findings.filter(({ code }) => code === 'lands-too-rarely');
    expect(found).toHaveLength(2);
    for (const id of slipped) {
      const { reason } = of(await answer<Reviewed>('review'), id);
      expect(
        found.filter(({ message }) => message.includes(`\`${id}\``) && message.includes(reason)),
      ).toHaveLength(1);
    }
  });

  test('`rank` has a row for both', async () => {
    const { rows } = await answer<Ranked>('rank');
    expect(rows.map(({ technique }) => technique)).toEqual(expect.arrayContaining([...slipped]));
  });

  test('the page for people names both under what is to be worked on again', async () => {
    const { out } = await routewright(folder, ['review']);
    const section = out.slice(out.indexOf('To work on again'), out.indexOf('Being learned'));
    for (const name of ['Gate roll', 'Lamp hop']) expect(section).toContain(`${name}: It landed`);
  });
});

describe('the plan after that evening', () => {
  test('has a block for both in the first session that has room', async () => {
    const { days } = await answer<Planned>('plan');
    const first = days.find((day) => day.blocks.length > 0)!;
    expect(first.blocks.map(({ technique }) => technique)).toEqual(expect.arrayContaining([...slipped]));
  });
});
