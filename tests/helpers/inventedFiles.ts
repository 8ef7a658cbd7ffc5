/** A whole project as its files, from a seed: a route, practice, evenings of runs, and a week file. */
import { chance, type Chance } from '../arena/random.ts';
import { makeRoute } from '../bench/route.ts';
import { formatDate } from '../../server/src/text/calendar.ts';

/** The files of a project in one folder, by name, and the ids of its techniques. */
export interface InventedFiles {
  readonly files: Readonly<Record<string, string>>;
  readonly techniques: readonly string[];
}

/** One technique's part in the logs. */
interface Habit {
  readonly id: string;
  /** Chance that a session has a block of it, or an evening of runs tries of it. */
  readonly practised: number;
  readonly tried: number;
  /** Landing rate in practice and in runs, at the beginning of the logs and at their end. */
  readonly from: number;
  readonly to: number;
}

/**
 * The files of an invented project. Some techniques are practised, some tried in runs, some both or neither; some get
 * better over the weeks and some worse; the week file gives some of them a state and leaves some out.
 *
 * @param today day number of the last day that has entries
 */
export function inventFiles(seed: number, today: number): InventedFiles {
  const random = chance(seed);
  const { text, techniques } = makeRoute(seed, { techniques: random.whole(5, 8) });
  const ids = techniques.map(({ id }) => id);
  const habits = ids.map((id) => inventHabit(id, random));
  const days = random.whole(10, 45);
  const head = 'route: a.route.yaml\n';
  return {
    techniques: ids,
    files: {
      'a.route.yaml': text,
      'a.practice.yaml': `${head}sessions:${listOf(practiceLines(habits, today, days, random))}`,
      'a.runs.yaml': `${head}runs:${listOf(runLines(habits, today, days, random))}`,
      'a.week.yaml': head + weekLines(ids, random),
    },
  };
}

function inventHabit(id: string, random: Chance): Habit {
  const rate = random.between(0.02, 0.95);
  const change = random.next() < 0.4 ? random.between(-0.7, 0.5) : 0;
  return {
    id,
    practised: random.next() < 0.6 ? random.between(0.1, 0.9) : 0,
    tried: random.next() < 0.5 ? random.between(0.4, 1) : 0,
    from: rate,
    to: Math.min(0.97, Math.max(0.02, rate + change)),
  };
}

function listOf(lines: readonly string[]): string {
  return lines.length === 0 ? ' []\n' : `\n${lines.map((line) => `  - ${line}\n`).join('')}`;
}

function rateOn({ from, to }: Habit, age: number, days: number): number {
  return to + ((from - to) * age) / days;
}

function practiceLines(habits: readonly Habit[], today: number, days: number, random: Chance): string[] {
  return daysBack(days).flatMap((age) => {
    if (random.next() < 0.4) return [];
    const blocks = habits
      .filter(({ practised }) => random.next() < practised)
      .map((habit) => {
        const tries = random.whole(20, 120);
        const landed = random.binomial(tries, rateOn(habit, age, days));
        return `{ technique: ${habit.id}, minutes: ${random.whole(10, 30)}, landed: [${landed}, ${tries}] }`;
      });
    return blocks.length === 0
      ? []
      : [`{ start: ${formatDate(today - age)}T17:00, blocks: [${blocks.join(', ')}] }`];
  });
}

function runLines(habits: readonly Habit[], today: number, days: number, random: Chance): string[] {
  return daysBack(days).flatMap((age) => {
    if (random.next() < 0.7) return [];
    const tried = habits
      .filter((habit) => random.next() < habit.tried)
      .map((habit) => {
        const tries = random.whole(3, 12);
        return `${habit.id}: [${random.binomial(tries, rateOn(habit, age, days))}, ${tries}]`;
      });
    return tried.length === 0
      ? []
      : [`{ start: ${formatDate(today - age)}T19:00, started: 12, tried: { ${tried.join(', ')} } }`];
  });
}

/** Ages of the days of the logs, oldest first. */
function daysBack(days: number): number[] {
  return Array.from({ length: days }, (_, i) => days - i);
}

function weekLines(ids: readonly string[], random: Chance): string {
  const states = ids.flatMap((id) =>
    random.next() < 0.3 ? [`${id}: ${['unlearned', 'learning', 'in-run'][random.whole(0, 2)]!}`] : [],
  );
  const chosen = (share: number): string => ids.filter(() => random.next() < share).join(', ');
  const leftOut = chosen(0.1);
  const pinned = chosen(0.1);
  return [
    'days: { mon: 50, wed: 75, sat: 50 }',
    ...(states.length > 0 ? [`states: { ${states.join(', ')} }`] : []),
    `leave_out: [${leftOut}]`,
    `pin: [${pinned}]`,
    '',
  ].join('\n');
}
