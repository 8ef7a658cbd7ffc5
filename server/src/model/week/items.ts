/** From the order of the ranking to the planner's items: everything that the search asks, in tables. */
import type { Candidate } from '../candidates.ts';
import { chanceAbove, expectationOf, meanPracticeRate, practiceLogits } from '../estimates.ts';
import { plannedMinutes } from '../forecast.ts';
import { logit } from '../numbers.ts';
import type { Order, Placed } from '../order.ts';
import { dose, level, morningOf } from '../practice.ts';
import type { RankInput, Subject } from '../prepare.ts';
import { leastLevel, levelStep, readLevel, tabulateLevels } from './levelTable.ts';
import type { LevelTable } from './levelTable.ts';
import type { PlanItem } from './problem.ts';
import { rateTable } from './rates.ts';
import { limits } from './sessions.ts';

/** What the items need to know besides the order. */
export interface Marks {
  readonly pinned: ReadonlySet<string>;
  readonly carried: ReadonlySet<string>;
  /** Days since the last practice. */
  readonly idle: ReadonlyMap<string, number>;
  /** Days that are planned. */
  readonly days: number;
}

/** Days without practice that stand for never. */
const never = 10_000;

/** The items in the order of the ranking, pinned ones that were not ranked at its end. */
export function planItems(input: RankInput, order: Order, marks: Marks): PlanItem[] {
  const { placed, prepared } = order;
  const numbers = new Map(placed.map(({ candidate }, i) => [candidate.id, i]));
  const ranked = placed.map((entry) => itemOf(input, order, entry.candidate, entry, marks, numbers));
  const unranked = [...prepared.subjects.keys()].filter((id) => marks.pinned.has(id) && !numbers.has(id));
  return [...ranked, ...unranked.flatMap((id) => unrankedItem(input, order, id, marks))];
}

function itemOf(
  input: RankInput,
  order: Order,
  candidate: Candidate,
  { setRate, company }: Placed,
  marks: Marks,
  numbers: ReadonlyMap<string, number>,
): PlanItem {
  const { subject, worth, openNeeds, readyAt } = candidate;
  const { posterior } = subject;
  const base = startOf(input, order, subject, marks);
  const expected = worth.breakEven === null ? () => 0 : expectationOf(posterior, worth.saved);
  const saved = rising(tabulateLevels((at) => expected(practiceLogits(posterior, at)), base.from, base.to));
  const { constants } = order.prepared;
  const block = plannedMinutes(input.options.blockMinutes);
  const own = rateTable(saved, base.item.pace, block, Math.round(constants.horizonBlocks), constants);
  // With nothing that it opens, its place in the ranking is its own: the table is brought to say the same.
  const here = readLevel(own, level(base.item.effective, constants));
  const scale = company.length === 0 && here > 0 && setRate > 0 ? setRate / here : 1;
  const rate: LevelTable = { ...own, values: own.values.map((value) => value * scale) };
  const edge = worth.breakEven === null ? null : logit(worth.breakEven);
  const sure = input.options.confidence;
  return {
    ...base.item,
    saved,
    rate,
    opens: openNeeds.length === 0 && company.length > 0 ? setRate : 0,
    needs: openNeeds.flatMap((need) => numbers.get(need) ?? []),
    readyLevel: readyAt === 0 ? -Infinity : readyLevelOf(order, subject, base.from, base.to),
    competentLevel:
      edge === null
        ? Infinity
        : leastLevel(
            (at) => chanceAbove(posterior, practiceLogits(posterior, at), edge) >= sure,
            base.from,
            base.to,
          ),
  };
}

/** A pinned technique that the ranking has no place for: it is practised because the runner says so. */
function unrankedItem(input: RankInput, order: Order, id: string, marks: Marks): PlanItem[] {
  const subject = order.prepared.subjects.get(id)!;
  if (input.options.leaveOut?.includes(id) === true) return [];
  const { subjects, constants } = order.prepared;
  const ready = (need: string): boolean => {
    const other = subjects.get(need);
    if (other === undefined) return false;
    return (
      other.technique.state === 'in-run' ||
      meanPracticeRate(other.posterior, other.logitsNow) >= constants.readyRate
    );
  };
  if (subject.technique.state !== 'in-run' && !subject.technique.needs.every(ready)) return [];
  const { item, from } = startOf(input, order, subject, marks);
  const nothing: LevelTable = { from, step: levelStep, values: new Float64Array(2) };
  return [
    {
      ...item,
      saved: nothing,
      rate: nothing,
      opens: 0,
      needs: [],
      readyLevel: Infinity,
      competentLevel: Infinity,
    },
  ];
}

/** Where a technique stands on the first morning, and between which levels it can move. */
function startOf(input: RankInput, order: Order, subject: Subject, marks: Marks) {
  const { constants } = order.prepared;
  const { technique, history } = subject;
  const state = morningOf(history.state, input.asOfDay, constants);
  const item = {
    id: technique.id,
    effective: state.effective,
    pending: state.pending,
    minutesToday: state.minutesToday,
    pace: history.pace,
    pinned: marks.pinned.has(technique.id),
    carried: marks.carried.has(technique.id),
    idleDays: marks.idle.get(technique.id) ?? never,
  };
  const from = level(state.effective, constants) * 2 ** (-(marks.days + 1) / constants.halfLife);
  const most = history.pace * dose(limits.onOne, limits.onOne, 0, constants) * (1 + constants.overnightGain);
  const top = level(
    state.effective + state.pending + most * (marks.days + constants.horizonBlocks / 2),
    constants,
  );
  return { item, from, to: Math.max(top, from + levelStep) };
}

function readyLevelOf({ prepared }: Order, { posterior }: Subject, from: number, to: number): number {
  const { readyRate } = prepared.constants;
  return leastLevel(
    (at) => meanPracticeRate(posterior, practiceLogits(posterior, at)) >= readyRate,
    from,
    to,
  );
}

/** More practice never saves less: what falls by rounding is held. */
function rising(table: LevelTable): LevelTable {
  let most = -Infinity;
  return { ...table, values: table.values.map((value) => (most = Math.max(most, value))) };
}
