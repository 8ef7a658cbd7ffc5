/** Invented weeks for the planner: techniques of every kind, and the minutes of each day. */
import { defaultConstants } from '../../server/src/model/core/constants.ts';
import { tabulateLevels } from '../../server/src/model/week/levelTable.ts';
import type { PlanItem, PlanProblem } from '../../server/src/model/week/planProblem.ts';
import { gainPerHourTable } from '../../server/src/model/week/gainPerHourTable.ts';
import { chance } from '../arena/random.ts';

export interface InventedWeek {
  readonly techniques: number;
  readonly days: number;
  /** Minutes of the seven days of the week. */
  readonly minutes: readonly number[];
  readonly block?: number;
  /** Share of the techniques that need an earlier one; 0.15 where left out. */
  readonly needing?: number;
  /** How many techniques are in the practice set already; 0 where left out. */
  readonly membersAtStart?: number;
  readonly pinned?: number;
  /** How many have to be worked on again; 0 where left out. */
  readonly again?: number;
  /** How many are in the run, every other one of them in the practice set; 0 where left out. */
  readonly inRun?: number;
  /** How many members of the set were practised on the first day already; 0 where left out. */
  readonly practisedToday?: number;
}

/** A realistic week from a seed. */
export function inventWeek(seed: number, given: InventedWeek): PlanProblem {
  const random = chance(seed);
  const constants = defaultConstants;
  const blockMinutes = given.block ?? 25;
  const made = Array.from({ length: given.techniques }, (_, i): PlanItem => {
    const difficulty = random.between(1, 10);
    const saves = random.between(0.3, 1.5) * random.between(1, 6);
    const loses = saves * random.between(0.1, 2);
    const pace = 60 / random.between(4, 25);
    const steep = random.between(0.6, 3);
    const ceiling = random.between(0.75, 1);
    const middle = 0.3 + 0.55 * (difficulty - 1) + 0.5 * random.normal();
    const known = random.next() < 0.4 ? random.between(0, 4) : 0;
    // The half-way point is uncertain, so the rates are averages over a bell of half-way points.
    const rates = (level: number): number[] =>
      Array.from(
        { length: 9 },
        (_, k) => ceiling / (1 + Math.exp(-steep * (level - middle - 0.35 * (k - 4)))),
      );
    const bell = Array.from({ length: 9 }, (_, k) => Math.exp(-0.5 * ((k - 4) * 0.5) ** 2));
    const total = bell.reduce((a, b) => a + b, 0);
    const worth = (level: number): number =>
      rates(level).reduce(
        (sum, p, k) => sum + (bell[k]! / total) * Math.max(0, p * saves - (1 - p) * loses),
        0,
      );
    const edge = loses / (saves + loses);
    const sure = (level: number): number =>
      rates(level).reduce((sum, p, k) => sum + (p > edge ? bell[k]! / total : 0), 0);
    const first = (holds: (level: number) => boolean): number => {
      for (let level = 0; level < 12; level += 0.05) if (holds(level)) return level;
      return Infinity;
    };
    const saved = tabulateLevels(worth, 0, 9);
    return {
      id: `t${String(i).padStart(2, '0')}`,
      effective: constants.unitPractice * Math.expm1(known),
      pending: 0,
      minutesToday: 0,
      pace,
      saved,
      rate: gainPerHourTable(saved, pace, blockMinutes, 28, constants),
      opens: 0,
      needs: [],
      readyLevel: first(
        (level) => rates(level).reduce((sum, p, k) => sum + (bell[k]! / total) * p, 0) >= 0.5,
      ),
      competentLevel: first((level) => sure(level) >= 0.8),
      pinned: false,
      inSetAtStart: false,
      again: false,
      mayEnter: true,
      idleDays: known > 0 ? random.whole(1, 20) : 1000,
    };
  });
  const rateNow = ({ rate, effective }: PlanItem): number => {
    const level = Math.log1p(effective / constants.unitPractice);
    return rate.values[Math.min(rate.values.length - 1, Math.round((level - rate.from) / rate.step))]!;
  };
  const ranked = made.sort((a, b) => rateNow(b) - rateNow(a) || (a.id < b.id ? -1 : 1));
  const needing = given.needing ?? 0.15;
  const items = ranked.map((item, i): PlanItem => ({
    ...item,
    inSetAtStart: i < 2 * (given.membersAtStart ?? 0) && i % 2 === 1,
  }));
  const linked = items.map((item, i): PlanItem => {
    if (i === 0 || item.inSetAtStart || random.next() >= needing) return item;
    const need = random.whole(0, items.length - 1);
    // A technique needs only techniques with smaller ids, so that needs never form a loop.
    return items[need]!.id < item.id && items[need]!.readyLevel < 6 ? { ...item, needs: [need] } : item;
  });
  const opened = linked.map((item, i): PlanItem => {
    const rates = linked.filter(({ needs }) => needs.includes(i)).map((other) => 0.7 * rateNow(other));
    return { ...item, opens: rates.reduce((a, b) => Math.max(a, b), 0) };
  });
  const pinned = opened.map((item, i) => ({ ...item, pinned: i >= opened.length - (given.pinned ?? 0) }));
  return {
    items: withStandings(pinned, given),
    minutes: Array.from({ length: given.days }, (_, d) => given.minutes[d % 7]!),
    blockMinutes,
    constants,
  };
}

/** Puts some items into the run, makes some be worked on again, and gives some members minutes of the first day. */
function withStandings(items: readonly PlanItem[], given: InventedWeek): PlanItem[] {
  const { again = 0, inRun = 0, practisedToday = 0 } = given;
  const standing = items.map((item, i): PlanItem => {
    if (i % 4 === 0 && i / 4 < again)
      return { ...item, inSetAtStart: true, again: true, mayEnter: false, needs: [] };
    if (i % 4 === 2 && (i - 2) / 4 < inRun)
      return {
        ...item,
        competentLevel: -Infinity,
        inSetAtStart: i % 8 === 2,
        needs: [],
      };
    return item;
  });
  const practised = standing.filter(({ inSetAtStart }) => inSetAtStart).slice(0, practisedToday);
  return standing.map((item) => {
    const k = practised.indexOf(item);
    if (k < 0) return item;
    const minutesToday = [25, 60, 45, 10][k % 4]!;
    return { ...item, minutesToday, pending: minutesToday * item.pace, idleDays: 0 };
  });
}
