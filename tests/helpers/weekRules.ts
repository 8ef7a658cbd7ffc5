/** The planner's rules, checked on a finished plan by separate code. */
import { blockCounts } from '../../server/src/model/week/planProblem.ts';
import type { PlanProblem, Schedule } from '../../server/src/model/week/planProblem.ts';
import { gainForecast, createLevelDynamics } from '../../server/src/model/week/levelDynamics.ts';
import { readLevelTable } from '../../server/src/model/week/levelTable.ts';

/** Minutes of a session with blocks of one length and their rests: 5 between blocks, 10 after each hour of practice. */
export function sessionMinutes(blocks: number, length: number): number {
  let total = 0;
  let since = 0;
  for (let b = 0; b < blocks; b++) {
    total += length;
    since += length;
    if (b === blocks - 1) break;
    total += since >= 60 ? 10 : 5;
    if (since >= 60) since = 0;
  }
  return total;
}

/** A sentence for every rule that a plan breaks; empty where it keeps all of them. */
export function brokenRules(problem: PlanProblem, schedule: Schedule): string[] {
  const broken: string[] = [];
  const { items, minutes } = problem;
  const counts = blockCounts(problem, schedule);
  const walk = createLevelDynamics(problem);
  const made = counts.map((row) => Float64Array.from(row, (n, d) => n * schedule.days[d]!.length));
  const levels = items.map((_, i) => gainForecast(problem, walk, i, made[i]!).levels);
  const levelAt = (i: number, d: number): number => (d === 0 ? walk.start[i]! : levels[i]![d - 1]!);
  const readyBy = (i: number, d: number): boolean =>
    Array.from({ length: d + 1 }, (_, k) => levelAt(i, k)).some((level) => level >= items[i]!.readyLevel);
  const rateOf = (i: number, d: number): number => {
    const own = readLevelTable(items[i]!.rate, levelAt(i, d));
    return readyBy(i, d) ? own : Math.max(own, items[i]!.opens);
  };
  const blocksBefore = (i: number, d: number): number => counts[i]!.slice(0, d).reduce((a, b) => a + b, 0);
  /** Whether an item may give up its place, and may not take one. */
  const isCompetent = (i: number, d: number): boolean => {
    const { pinned, again, competentLevel } = items[i]!;
    if (pinned || (again && blocksBefore(i, d) < 2)) return false;
    return levelAt(i, d) >= competentLevel;
  };
  const rankOf = (i: number, d: number): number => (items[i]!.pinned ? Infinity : rateOf(i, d));
  const areNeedsReady = (i: number, d: number): boolean => items[i]!.needs.every((need) => readyBy(need, d));
  const someToday = items.some(({ minutesToday }) => minutesToday > 0);
  const gone = new Set<number>();
  const say = (d: number, what: string): void => void broken.push(`day ${d}: ${what}`);
  /** The members of the session before; undefined before the first. */
  let before: readonly number[] | undefined;
  let membersAtStart: readonly number[] = [];
  const idle = items.map(({ idleDays }) => idleDays);
  schedule.days.forEach(({ members, left, blocks, length }, d) => {
    if (blocks.length > 0 && !(minutes[d]! > 0)) say(d, 'practice on a day without any');
    if (blocks.length > 0 && (length < 20 || length > 30 || !Number.isInteger(length)))
      say(d, `blocks of ${length}`);
    if (sessionMinutes(blocks.length, length) > minutes[d]!) say(d, 'longer than the day');
    items.forEach((item, i) => {
      const today = made[i]![d]! + (d === 0 ? item.minutesToday : 0);
      if (made[i]![d]! > 0 && today > 60) say(d, `${today} minutes of ${item.id}`);
      if (made[i]![d]! > 0 && !members.includes(i)) say(d, `${item.id} is not in the set`);
      if (made[i]![d]! > 0 && !item.needs.every((need) => readyBy(need, d)))
        say(d, `${item.id} before its needs`);
    });
    if (new Set(members).size < members.length) say(d, 'the same technique twice in the set');
    const rooms = items.map(({ minutesToday }, i) => 60 - made[i]![d]! - (d === 0 ? minutesToday : 0));
    const unused = minutes[d]! - sessionMinutes(blocks.length, length);
    const another = d === 0 && someToday && length > 0 ? length : 20;
    if (unused >= 20 && members.some((i) => rooms[i]! >= another)) say(d, `${unused} minutes unused`);
    const practised = members.filter((i) => made[i]![d]! > 0);
    const waiting = members.filter((i) => made[i]![d]! === 0 && rooms[i]! >= another);
    if (waiting.length > 0 && sessionMinutes(practised.length + waiting.length, 20) <= minutes[d]!)
      say(d, 'not the whole set, though all fit');
    for (const w of waiting) {
      for (const p of practised) {
        if (idle[p]! < idle[w]!) say(d, 'not those longest unpractised');
        if (idle[p]! === idle[w]! && items[w]!.again && !items[p]!.again)
          say(d, `${items[w]!.id} is to be worked on again and waits`);
      }
    }
    const most = Math.max(...practised.map((i) => counts[i]![d]!));
    const others = blocks.length - most;
    if (blocks.some((item, b) => b > 0 && blocks[b - 1] === item) && most <= others + 1)
      say(d, 'the same technique twice in a row');

    // The set changes only on days of a session.
    if (minutes[d]! < 20) {
      if (before !== undefined && members.join() !== before.join()) say(d, 'another set without a session');
      if (left.length > 0) say(d, 'one left without a session');
    } else {
      if (before === undefined)
        membersAtStart = [...items.keys()].filter((i) => items[i]!.inSetAtStart && areNeedsReady(i, d));
      const were = before ?? membersAtStart;
      let places = were.length;
      for (const { item, replacedBy } of left) {
        const { id, pinned } = items[item]!;
        if (!were.includes(item) || members.includes(item)) say(d, `${id} left without having been there`);
        if (pinned) say(d, `${id} is pinned and left`);
        if (!isCompetent(item, d)) say(d, `${id} left and is not competent`);
        if (replacedBy === null) {
          if (--places < schedule.size) say(d, `${id} left an empty place`);
          continue;
        }
        if (places > schedule.size) say(d, `${id} was replaced in too large a set`);
        if (!members.includes(replacedBy)) say(d, `${items[replacedBy]!.id} took a place and has none`);
        if (!(rankOf(replacedBy, d) > rateOf(item, d))) say(d, `${id} left for less`);
      }
      const unexplained = were.filter((i) => !members.includes(i) && !left.some(({ item }) => item === i));
      if (unexplained.length > 0) say(d, `${items[unexplained[0]!]!.id} left without a reason`);
      for (const { item } of left) gone.add(item);
      for (const i of members) {
        if (gone.has(i)) say(d, `${items[i]!.id} is back`);
        if (were.includes(i)) continue;
        if (!items[i]!.mayEnter && !items[i]!.pinned) say(d, `${items[i]!.id} entered and may not`);
        // What is competent comes in only for far more than each that is left outside.
        const outside = [...items.keys()].filter(
          (j) => !members.includes(j) && !gone.has(j) && (items[j]!.mayEnter || items[j]!.pinned),
        );
        const left = outside.filter((j) => areNeedsReady(j, d) && !isCompetent(j, d));
        if (isCompetent(i, d) && left.some((j) => rankOf(i, d) < 1.5 * rankOf(j, d) * (1 - 1e-9)))
          say(d, `${items[i]!.id} entered and is competent`);
        if (members.length > schedule.size) say(d, `${items[i]!.id} entered too large a set`);
      }
      const leaving = members.filter((i) => isCompetent(i, d));
      if (members.length > schedule.size && leaving.length > 0)
        say(d, `${items[leaving[0]!]!.id} stays in too large a set`);
      items.forEach((item, j) => {
        if (members.includes(j) || gone.has(j) || !(item.mayEnter || item.pinned)) return;
        if (!areNeedsReady(j, d) || isCompetent(j, d) || !(rankOf(j, d) > 0)) return;
        if (members.length < schedule.size) say(d, `${item.id} waits beside a free place`);
        const weaker = leaving.find((i) => rankOf(j, d) > rateOf(i, d) * (1 + 1e-9));
        if (weaker !== undefined && members.length <= schedule.size)
          say(d, `${items[weaker]!.id} stays though ${item.id} waits`);
      });
      before = members;
    }
    items.forEach((_, i) => {
      idle[i] = made[i]![d]! > 0 ? 0 : idle[i]! + 1;
    });
  });
  return broken;
}
