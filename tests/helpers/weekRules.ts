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
  /** The gain that a technique must exceed to take a member's place in the practice set. */
  const heldAt = (i: number, d: number): number =>
    rateOf(i, d) / (levelAt(i, d) >= items[i]!.competentLevel ? 1 : problem.leavingShare);
  const goneUntil = items.map(() => 0);
  const say = (d: number, what: string): void => void broken.push(`day ${d}: ${what}`);
  let before: readonly number[] | undefined;
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
    if (members.length > schedule.size || new Set(members).size < members.length) say(d, 'too large a set');
    if (members.length > 6 && items.filter(({ pinned }) => pinned).length < members.length)
      say(d, 'a set of more than six');
    const practised = members.filter((i) => made[i]![d]! > 0);
    const waiting = members.filter((i) => made[i]![d]! === 0 && (d > 0 || items[i]!.minutesToday === 0));
    if (blocks.length >= members.length && waiting.length > 0 && d > 0) say(d, 'not the whole set');
    if (practised.length > 0 && waiting.some((w) => practised.some((p) => idle[p]! < idle[w]!)))
      say(d, 'not those longest unpractised');
    if (blocks.some((item, b) => b > 0 && blocks[b - 1] === item) && new Set(blocks).size > 1)
      say(d, 'the same technique twice in a row');
    for (const { item, replacedBy, competent } of left) {
      const here = levelAt(item, d);
      if (items[item]!.pinned) say(d, `${items[item]!.id} is pinned and left`);
      if (competent !== here >= items[item]!.competentLevel) say(d, `${items[item]!.id} competent or not`);
      const own = rateOf(item, d);
      const other = items[replacedBy]!.pinned ? Infinity : rateOf(replacedBy, d);
      if (!(competent ? other > own : own < problem.leavingShare * other))
        say(d, `${items[item]!.id} left too early`);
    }
    for (const { item, replacedBy } of left) {
      const was = before === undefined ? items[item]!.inSetAtStart : before.includes(item);
      if (!was || members.includes(item)) say(d, `${items[item]!.id} left without having been there`);
      if (!members.includes(replacedBy)) say(d, `${items[replacedBy]!.id} took a place and has none`);
      goneUntil[item] = d + 7;
    }
    if (blocks.length > 0) {
      items.forEach((item, j) => {
        const dropped = before === undefined && item.inSetAtStart;
        if (members.includes(j) || d < goneUntil[j]! || dropped) return;
        if (!item.needs.every((need) => readyBy(need, d))) return;
        const waits = item.pinned ? Infinity : rateOf(j, d);
        if (members.length < schedule.size && waits > 0) say(d, `${item.id} waits beside a free place`);
        const weaker = members.find((i) => !items[i]!.pinned && waits > heldAt(i, d) * (1 + 1e-9));
        if (weaker !== undefined) say(d, `${items[weaker]!.id} stays though ${item.id} waits`);
      });
      const early = members.find((i) => d < goneUntil[i]!);
      if (early !== undefined) say(d, `${items[early]!.id} is back within a week`);
    }
    if (before !== undefined && blocks.length > 0) {
      const gone = before.filter((i) => !members.includes(i));
      if (gone.some((i) => !left.some(({ item }) => item === i))) say(d, 'one left without a reason');
    }
    if (blocks.length > 0) before = members;
    items.forEach((_, i) => {
      idle[i] = made[i]![d]! > 0 ? 0 : idle[i]! + 1;
    });
  });
  return broken;
}
