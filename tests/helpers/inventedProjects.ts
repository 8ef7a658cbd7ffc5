/** Whole folders of files from a seed: small routes, six weeks of practice and runs, and sometimes a week file. */
import { chance, type Chance } from '../arena/random.ts';
import { formatDate, parseMoment } from '../../server/src/text/calendar.ts';

const ids = ['gate-roll', 'lamp-hop', 'wall-kick', 'rope-swing', 'net-climb'] as const;
const states = ['in-run', 'learning', 'unlearned'] as const;
const days = 42;
const firstDay = parseMoment('2026-08-31')!.date;

/** What a technique's runner does with it. Some techniques fall in the last week for a reason that no file knows. */
interface Habit {
  readonly id: string;
  readonly practised: boolean;
  readonly tried: boolean;
  /** First and last day on which it may be practised. */
  readonly from: number;
  readonly until: number;
  readonly rate: number;
  readonly gainADay: number;
  readonly lateFall: number;
}

function habits(random: Chance): Habit[] {
  return ids.slice(0, random.whole(2, ids.length)).map((id) => ({
    id,
    practised: random.next() < 0.6,
    tried: random.next() < 0.6,
    from: random.whole(0, 38),
    until: random.next() < 0.4 ? random.whole(26, 36) : days,
    rate: random.between(0.05, 0.9),
    gainADay: random.between(0, 0.02),
    lateFall: random.next() < 0.3 ? random.between(0.2, 0.6) : 0,
  }));
}

function rateOn({ rate, gainADay, lateFall, from }: Habit, day: number): number {
  const fall = day >= days - 7 ? lateFall : 0;
  return Math.min(0.97, Math.max(0.02, rate + gainADay * Math.max(0, day - from) - fall));
}

/** The files of one runner with one route, texts by name. The same seed gives the same files. */
export function inventProject(seed: number): Record<string, string> {
  const random = chance(seed);
  const techniques = habits(random);
  const sessions: string[] = [];
  const runs: string[] = [];
  const counted = (habit: Habit, day: number, tries: number): string =>
    `[${random.binomial(tries, rateOn(habit, day))}, ${tries}]`;
  for (let day = 0; day < days; day++) {
    const date = formatDate(firstDay + day);
    const practised = techniques.filter(
      ({ practised, from, until }) => practised && day >= from && day <= until && random.next() < 0.45,
    );
    if (practised.length > 0)
      sessions.push(
        `  - start: ${date}T19:00\n    blocks:\n`,
        ...practised.map(
          (habit) => `      - { technique: ${habit.id}, minutes: 25, landed: ${counted(habit, day, 120)} }\n`,
        ),
      );
    if (random.next() > 0.3) continue;
    const tried = techniques
      .filter(({ tried, from }) => tried && day >= from / 2)
      .map((habit) => `${habit.id}: ${counted(habit, day, random.whole(3, 20))}`);
    runs.push(`  - { date: ${date}, minutes: 60, runs: 20, tried: { ${tried.join(', ')} } }\n`);
  }
  const [own, header] = ['lanternfall', 'route: lanternfall.route.yaml\n'] as const;
  return {
    [`${own}.route.yaml`]: routeText(techniques, random),
    ...(sessions.length > 0 && { [`${own}.practice.yaml`]: `${header}sessions:\n${sessions.join('')}` }),
    ...(runs.length > 0 && { [`${own}.runs.yaml`]: `${header}runs:\n${runs.join('')}` }),
    ...(random.next() < 0.6 && { [`${own}.week.yaml`]: header + weekText(techniques, random) }),
  };
}

function routeText(techniques: readonly Habit[], random: Chance): string {
  const seconds = (low: number, high: number): string => random.between(low, high).toFixed(2);
  const segments = techniques.map(
    ({ id }, i) => `  - { id: part-${i}, time: ${random.whole(60, 150)}, techniques: [${id}] }\n`,
  );
  const needs = (i: number): string =>
    i > 0 && random.next() < 0.2 ? `, needs: [${techniques[i - 1]!.id}]` : '';
  const entries = techniques.map(
    ({ id }, i) =>
      `  ${id}: { name: The ${id.replace('-', ' ')}, difficulty: ${random.whole(1, 9)}, saves: ${seconds(0.5, 8)}, loses: ${seconds(0.3, 8)}${needs(i)}, practice: { attempt: 5, reload: 1 } }\n`,
  );
  return `game: Lanternfall\ncategory: any%\nrestart: 12\nsegments:\n${segments.join('')}techniques:\n${entries.join('')}`;
}

function weekText(techniques: readonly Habit[], random: Chance): string {
  const written = techniques
    .filter(() => random.next() < 0.4)
    .map(({ id }) => `  ${id}: ${states[random.whole(0, 2)]!}\n`);
  const leftOut = techniques.filter(() => random.next() < 0.1).map(({ id }) => id);
  return [
    ...(random.next() < 0.3 ? [`confidence: ${random.between(0.6, 0.95).toFixed(2)}\n`] : []),
    ...(written.length > 0 ? [`states:\n${written.join('')}`] : []),
    ...(leftOut.length > 0 ? [`leave_out: [${leftOut.join(', ')}]\n`] : []),
  ].join('');
}
