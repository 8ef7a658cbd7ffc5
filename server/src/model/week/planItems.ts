/** Converts the ranked techniques to the planner's items, with all values that the search needs in tables. */
import { mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { Candidate } from '../rank/candidates.ts';
import { chanceRunRateAbove, meanPracticeRate, practiceLogits } from '../skill/rateEstimates.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import { logit } from '../core/numbers.ts';
import type { RankingOrder, RankedCandidate } from '../rank/rankingOrder.ts';
import { dose, practiceLevel, stateOnMorning } from '../skill/practiceState.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { RankInput, FittedTechnique } from '../run/preparedModel.ts';
import { lowestLevelWhere, levelStep, readLevelTable, tabulateSteps } from './levelTable.ts';
import type { LevelTable } from './levelTable.ts';
import type { StandingKind } from '../core/types.ts';
import type { PlanItem } from './planProblem.ts';
import { setRetentionDays } from './setFromLogs.ts';
import { gainPerHourTable } from './gainPerHourTable.ts';
import { rateDistribution } from './rateDistribution.ts';
import type { RateDistribution } from './rateDistribution.ts';
import { sessionLimits } from './sessions.ts';

/** Further input for the items, in addition to the order. */
export interface PlanItemContext {
  readonly pinned: ReadonlySet<string>;
  /** Where each technique stands, by id. One without an entry is not begun. */
  readonly standings: ReadonlyMap<string, { readonly kind: StandingKind }>;
  /** Days since the last practice. */
  readonly idle: ReadonlyMap<string, number>;
  /** Days that are planned. */
  readonly days: number;
}

/** Where a technique stands. */
export function standingKind({ standings }: Pick<PlanItemContext, 'standings'>, id: string): StandingKind {
  return standings.get(id)?.kind ?? 'not-begun';
}

/**
 * Whether a technique is in the practice set on the first morning: what is pinned, to be worked on again or being
 * learned; and what is in the run, if it was practised in the last days.
 */
export function isMemberAtStart(
  context: Pick<PlanItemContext, 'pinned' | 'standings' | 'idle'>,
  id: string,
): boolean {
  const kind = standingKind(context, id);
  if (kind === 'left-out' || kind === 'waiting') return false;
  if (context.pinned.has(id) || kind === 'again' || kind === 'learning') return true;
  return kind === 'in-run' && (context.idle.get(id) ?? Infinity) <= setRetentionDays;
}

/** Number of days without practice for a technique that was never practised. */
const neverPractisedDays = 10_000;

/**
 * The items in the order of the ranking; techniques that are pinned or to be worked on again and were not ranked come
 * last.
 */
export function* planItemsInSteps(
  input: RankInput,
  order: RankingOrder,
  context: PlanItemContext,
): Steps<PlanItem[]> {
  const { ranked: rankedCandidates, prepared } = order;
  const numbers = new Map(rankedCandidates.map(({ candidate }, i) => [candidate.id, i]));
  const ranked = yield* mapInSteps(rankedCandidates, (entry) =>
    rankedItem(input, order, entry.candidate, entry, context, numbers),
  );
  const unranked = [...prepared.fittedTechniques.keys()].filter(
    (id) => !numbers.has(id) && (context.pinned.has(id) || standingKind(context, id) === 'again'),
  );
  return [...ranked, ...unranked.flatMap((id) => unrankedItem(input, order, id, context))];
}

function rankedItem(
  input: RankInput,
  order: RankingOrder,
  candidate: Candidate,
  { setGainPerHour: setRate, othersInSet }: RankedCandidate,
  context: PlanItemContext,
  numbers: ReadonlyMap<string, number>,
): PlanItem {
  const { subject, openNeeds, readyAt } = candidate;
  const { constants } = order.prepared;
  const base = initialState(input, order, subject, context);
  const block = clampBlockMinutes(input.options.blockMinutes);
  const { saved, rate: own } = levelTables(order, candidate, base, block);
  // If its set contains no other technique, its gain per hour must equal the one in the ranking, so the table is
  // scaled to that value.
  const here = readLevelTable(own, practiceLevel(base.item.effective, constants));
  const scale = othersInSet.length === 0 && here > 0 && setRate > 0 ? setRate / here : 1;
  const rate: LevelTable = { ...own, values: own.values.map((value) => value * scale) };
  const kind = standingKind(context, candidate.id);
  const opens = openNeeds.length === 0 && othersInSet.length > 0 ? setRate : 0;
  const readyLevel = readyAt === 0 ? -Infinity : readyLevelOf(order, subject, base);
  const competentLevel =
    kind === 'in-run' ? -Infinity : competentLevelOf(candidate, input.options.confidence, base);
  return {
    ...base.item,
    saved,
    rate,
    opens,
    needs: kind === 'again' ? [] : openNeeds.flatMap((need) => numbers.get(need) ?? []),
    readyLevel,
    // What others need is practised until it is ready for them.
    competentLevel: opens > 0 ? Math.max(competentLevel, readyLevel) : competentLevel,
  };
}

/** Seconds saved by the level of practice, and gain per hour of practice from that level; both before any scaling. */
function levelTables(
  { prepared: { constants, rates, shared } }: RankingOrder,
  { subject: { posterior, memory }, worth }: Candidate,
  { item: { pace }, from, to }: InitialState,
  block: number,
): { readonly saved: LevelTable; readonly rate: LevelTable } {
  const horizon = Math.round(constants.horizonBlocks);
  const on = [posterior, worth.saved, worth.breakEven, from, to, pace, block, horizon, constants, rates];
  return memory.getOrCompute('tables of the week', on, () => {
    // Techniques without any counts can share one posterior, so the distributions are kept by posterior.
    const all = shared.getOrCompute('rate shares', [], () => new WeakMap<SkillPosterior, RateDistribution>());
    const shares = all.get(posterior) ?? rateDistribution(posterior, rates);
    all.set(posterior, shares);
    const saves = worth.breakEven !== null;
    const at = (index: number): number => (saves ? shares.expected(index, worth.saved) : 0);
    const saved = runningMaximum(tabulateSteps(at, Math.floor(from / levelStep), Math.ceil(to / levelStep)));
    return { saved, rate: gainPerHourTable(saved, pace, block, horizon, constants) };
  });
}

function competentLevelOf(
  { subject: { posterior, memory }, worth: { breakEven } }: Candidate,
  sure: number,
  { from, to }: InitialState,
): number {
  if (breakEven === null) return Infinity;
  const edge = logit(breakEven);
  const holds = (at: number): boolean =>
    chanceRunRateAbove(posterior, practiceLogits(posterior, at), edge) >= sure;
  return memory.getOrCompute('level when competent', [posterior, edge, sure, from, to], () =>
    lowestLevelWhere(holds, from, to),
  );
}

/**
 * The item of a technique that is not ranked: it is practised because the runner wants it, or because it has to be
 * worked on again.
 */
function unrankedItem(
  input: RankInput,
  order: RankingOrder,
  id: string,
  context: PlanItemContext,
): PlanItem[] {
  const subject = order.prepared.fittedTechniques.get(id)!;
  if (input.options.leaveOut?.includes(id) === true) return [];
  const { fittedTechniques: subjects, constants } = order.prepared;
  const ready = (need: string): boolean => {
    const other = subjects.get(need);
    if (other === undefined) return false;
    return (
      other.technique.state === 'in-run' ||
      meanPracticeRate(other.posterior, other.logitsNow) >= constants.readyRate
    );
  };
  if (subject.technique.state !== 'in-run' && !subject.technique.needs.every(ready)) return [];
  const { item, from } = initialState(input, order, subject, context);
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

/** The state of a technique on the first morning, and the range of levels that it can reach. */
interface InitialState {
  readonly item: Pick<
    PlanItem,
    | 'id'
    | 'effective'
    | 'pending'
    | 'minutesToday'
    | 'pace'
    | 'pinned'
    | 'inSetAtStart'
    | 'again'
    | 'mayEnter'
    | 'idleDays'
  >;
  readonly from: number;
  readonly to: number;
}

function initialState(
  input: RankInput,
  order: RankingOrder,
  subject: FittedTechnique,
  context: PlanItemContext,
): InitialState {
  const { constants } = order.prepared;
  const { technique, history } = subject;
  const state = stateOnMorning(history.state, input.asOfDay, constants);
  const kind = standingKind(context, technique.id);
  const item = {
    id: technique.id,
    effective: state.effective,
    pending: state.pending,
    minutesToday: state.minutesToday,
    pace: history.pace,
    pinned: context.pinned.has(technique.id),
    inSetAtStart: isMemberAtStart(context, technique.id),
    again: kind === 'again',
    mayEnter: kind !== 'left-out',
    idleDays: context.idle.get(technique.id) ?? neverPractisedDays,
  };
  const from = practiceLevel(state.effective, constants) * 2 ** (-(context.days + 1) / constants.halfLife);
  const most =
    history.pace *
    dose(sessionLimits.onOne, sessionLimits.onOne, 0, constants) *
    (1 + constants.overnightGain);
  const top = practiceLevel(
    state.effective + state.pending + most * (context.days + constants.horizonBlocks / 2),
    constants,
  );
  return { item, from, to: Math.max(top, from + levelStep) };
}

function readyLevelOf(
  { prepared }: RankingOrder,
  { posterior, memory }: FittedTechnique,
  { from, to }: InitialState,
): number {
  const { readyRate } = prepared.constants;
  const holds = (at: number): boolean =>
    meanPracticeRate(posterior, practiceLogits(posterior, at)) >= readyRate;
  return memory.getOrCompute('level when ready', [posterior, readyRate, from, to], () =>
    lowestLevelWhere(holds, from, to),
  );
}

/** Makes a table rise everywhere: more practice never saves less, so a fall is a rounding error. */
function runningMaximum(table: LevelTable): LevelTable {
  let most = -Infinity;
  return { ...table, values: table.values.map((value) => (most = Math.max(most, value))) };
}
