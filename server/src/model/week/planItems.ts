/** From the order of the ranking to the planner's items: everything that the search asks, in tables. */
import type { Candidate } from '../rank/candidates.ts';
import { chanceAbove, meanPracticeRate, practiceLogits } from '../skill/rateEstimates.ts';
import { plannedMinutes } from '../skill/forecast.ts';
import { logit } from '../core/numbers.ts';
import type { Order, Placed } from '../rank/rankingOrder.ts';
import { dose, level, morningOf } from '../skill/practiceState.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { RankInput, Subject } from '../run/preparedModel.ts';
import { leastLevel, levelStep, readLevel, tabulateIndexes } from './levelTable.ts';
import type { LevelTable } from './levelTable.ts';
import type { PlanItem } from './planProblem.ts';
import { rateTable } from './gainPerHourTable.ts';
import { rateShares } from './rateDistribution.ts';
import type { RateShares } from './rateDistribution.ts';
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
  const { subject, openNeeds, readyAt } = candidate;
  const { constants } = order.prepared;
  const base = startOf(input, order, subject, marks);
  const block = plannedMinutes(input.options.blockMinutes);
  const { saved, rate: own } = tablesOf(order, candidate, base, block);
  // With nothing that it opens, its place in the ranking is its own: the table is brought to say the same.
  const here = readLevel(own, level(base.item.effective, constants));
  const scale = company.length === 0 && here > 0 && setRate > 0 ? setRate / here : 1;
  const rate: LevelTable = { ...own, values: own.values.map((value) => value * scale) };
  return {
    ...base.item,
    saved,
    rate,
    opens: openNeeds.length === 0 && company.length > 0 ? setRate : 0,
    needs: openNeeds.flatMap((need) => numbers.get(need) ?? []),
    readyLevel: readyAt === 0 ? -Infinity : readyLevelOf(order, subject, base),
    competentLevel: competentLevelOf(candidate, input.options.confidence, base),
  };
}

/** What landing saves by the level of practice, and what practice brings per hour from there: before any scaling. */
function tablesOf(
  { prepared: { constants, rates, shared } }: Order,
  { subject: { posterior, memory }, worth }: Candidate,
  { item: { pace }, from, to }: Start,
  block: number,
): { readonly saved: LevelTable; readonly rate: LevelTable } {
  const horizon = Math.round(constants.horizonBlocks);
  const on = [posterior, worth.saved, worth.breakEven, from, to, pace, block, horizon, constants, rates];
  return memory.recall('tables of the week', on, () => {
    // Techniques that nothing is known of have one posterior in common.
    const all = shared.recall('rate shares', [], () => new WeakMap<SkillPosterior, RateShares>());
    const shares = all.get(posterior) ?? rateShares(posterior, rates);
    all.set(posterior, shares);
    const saves = worth.breakEven !== null;
    const at = (index: number): number => (saves ? shares.expected(index, worth.saved) : 0);
    const saved = rising(tabulateIndexes(at, Math.floor(from / levelStep), Math.ceil(to / levelStep)));
    return { saved, rate: rateTable(saved, pace, block, horizon, constants) };
  });
}

function competentLevelOf(
  { subject: { posterior, memory }, worth: { breakEven } }: Candidate,
  sure: number,
  { from, to }: Start,
): number {
  if (breakEven === null) return Infinity;
  const edge = logit(breakEven);
  const holds = (at: number): boolean => chanceAbove(posterior, practiceLogits(posterior, at), edge) >= sure;
  return memory.recall('level when competent', [posterior, edge, sure, from, to], () =>
    leastLevel(holds, from, to),
  );
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
interface Start {
  readonly item: Pick<
    PlanItem,
    'id' | 'effective' | 'pending' | 'minutesToday' | 'pace' | 'pinned' | 'carried' | 'idleDays'
  >;
  readonly from: number;
  readonly to: number;
}

function startOf(input: RankInput, order: Order, subject: Subject, marks: Marks): Start {
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

function readyLevelOf({ prepared }: Order, { posterior, memory }: Subject, { from, to }: Start): number {
  const { readyRate } = prepared.constants;
  const holds = (at: number): boolean =>
    meanPracticeRate(posterior, practiceLogits(posterior, at)) >= readyRate;
  return memory.recall('level when ready', [posterior, readyRate, from, to], () =>
    leastLevel(holds, from, to),
  );
}

/** More practice never saves less: what falls by rounding is held. */
function rising(table: LevelTable): LevelTable {
  let most = -Infinity;
  return { ...table, values: table.values.map((value) => (most = Math.max(most, value))) };
}
