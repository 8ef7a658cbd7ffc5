import { expect, test } from 'vitest';
import { folderOf, routewright, samples, textOf } from '../../../cli/place.ts';
import { ModelCache } from '../../../../server/src/model/index.ts';
import { planWeek } from '../../../../server/src/model/week/planWeek.ts';
import { weekInputOf } from '../../../helpers/weekInputs.ts';
import { sessionMinutes } from '../../../helpers/weekRules.ts';

interface Day {
  readonly date: string;
  readonly blocks: readonly { technique: string; minutes: number; rest: number }[];
}

/** The sample's plan with so many minutes on every day of the week. */
async function planOf(minutes: number): Promise<{ days: readonly Day[]; set: string[]; notes: string[] }> {
  const files = sampleFiles();
  const days = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']
    .map((day) => `${day}: ${minutes}`)
    .join(', ');
  files['lanternfall.week.yaml'] = files['lanternfall.week.yaml']!.replace(/^days:.*$/m, `days: { ${days} }`);
  return JSON.parse((await routewright(folderOf(files), ['plan', '--json'])).out) as never;
}

const practised = ({ blocks }: Day): string[] =>
  [...new Set(blocks.map(({ technique }) => technique))].sort();

test('two hours a day: four to six techniques in blocks of 20 to 30 minutes, the same until something better waits', async () => {
  const { days, notes } = await planOf(120);
  const sessions = days.filter(({ blocks }) => blocks.length > 0);
  expect(sessions.length).toBeGreaterThan(20);
  for (const day of sessions) {
    expect(practised(day).length).toBeGreaterThanOrEqual(4);
    expect(practised(day).length).toBeLessThanOrEqual(6);
    for (const { minutes } of day.blocks) expect(minutes >= 20 && minutes <= 30).toBe(true);
    expect(day.blocks.reduce((sum, { minutes, rest }) => sum + minutes + rest, 0)).toBeLessThanOrEqual(120);
  }
  // Within the days that are told, every change of what is practised has its sentence.
  const told = sessions.slice(0, 12);
  const changed = told.filter((day, d) => d > 0 && practised(day).join() !== practised(told[d - 1]!).join());
  for (const { date } of changed) expect(notes.some((note) => note.startsWith(`From ${date} on`))).toBe(true);
  // The set lasts: most sessions practise what the one before did.
  expect(changed.length).toBeLessThanOrEqual(told.length / 2);
});

const sampleFiles = (): Record<string, string> =>
  Object.fromEntries(
    ['route', 'practice', 'runs', 'week'].map((kind) => {
      const name = `lanternfall.${kind}.yaml`;
      return [name, textOf(samples, name)];
    }),
  );

const sampleInput = weekInputOf(sampleFiles()).then(({ weekInput }) => weekInput);
/** What the logs say is worked out once for all of these plans. */
const cache = new ModelCache();

test.each([0, 19, 20, 45, 60, 90, 150, 240, 600])(
  'no limit is broken with %i minutes a day',
  async (minutes) => {
    const { days } = planWeek(
      { ...(await sampleInput).planInput, minutes: Array<number>(28).fill(minutes) },
      cache,
    );
    for (const { blocks } of days) {
      if (minutes < 20) expect(blocks).toEqual([]);
      if (blocks.length === 0) continue;
      const { minutes: length } = blocks[0]!;
      expect(blocks.every((block) => block.minutes === length && length >= 20 && length <= 30)).toBe(true);
      expect(sessionMinutes(blocks.length, length)).toBeLessThanOrEqual(minutes);
      for (const technique of new Set(blocks.map((block) => block.technique)))
        expect(blocks.filter((block) => block.technique === technique).length * length).toBeLessThanOrEqual(
          60,
        );
    }
  },
);
