/**
 * The order in which techniques are worth practising, without the numbers that are only for display. Both the rows
 * of a ranking and the practice set are computed from it.
 */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { chooseCandidatesInSteps } from './candidates.ts';
import type { Candidate, SkippedTechnique } from './candidates.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { compareCodeUnits } from '../core/numbers.ts';
import type { Objective } from './objectives/objective.ts';
import { valueByObjectiveInSteps } from './objectives/objectives.ts';
import { prepareModelInSteps } from '../run/preparedModel.ts';
import type { PreparedModel, RankInput } from '../run/preparedModel.ts';
import { dependencyGroups, jointSetsInSteps } from './jointSets.ts';
import type { JointSet, ValuedCandidate } from './jointSets.ts';
import { standingsOfInSteps } from '../standing/standings.ts';
import type { Standing } from '../core/standing.ts';
import type { TargetChance } from '../core/results.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';

/** A candidate with its place in the order and the blocks chosen for it. */
export interface RankedCandidate extends ValuedCandidate {
  readonly blocks: number;
  /** Gain per hour of the set it is practised in; 0 if it is in no set. */
  readonly setGainPerHour: number;
  /** The other techniques of that set. */
  readonly othersInSet: readonly string[];
  /** The set as a package; null if the technique is practised alone. */
  readonly package: {
    readonly blocks: number;
    readonly members: readonly string[];
    readonly further: readonly string[];
  } | null;
  /** An upper bound of the gain per hour of any set; given only if not every choice among partners was tried. */
  readonly atMost?: number;
}

export interface RankingOrder {
  readonly prepared: PreparedModel;
  /** Where each technique stands, in order of id. */
  readonly standings: ReadonlyMap<string, Standing>;
  /** The objective that gains are measured by. */
  readonly objective: Objective;
  readonly target: TargetChance | null;
  /** In order of id. */
  readonly candidates: readonly Candidate[];
  readonly ranked: readonly RankedCandidate[];
  readonly skipped: readonly SkippedTechnique[];
}

/**
 * Orders the members of a set: each after its needs, and among those whose needs are met, the one with the greater
 * gain per hour first.
 */
function orderWithinSet({ members }: JointSet): JointSet['members'][number][] {
  const waiting = [...members];
  const rateOf = ({ gains, blocks }: JointSet['members'][number]): number => gains[blocks]! / blocks;
  const order: JointSet['members'][number][] = [];
  while (waiting.length > 0) {
    const free = waiting.filter(({ candidate }) =>
      waiting.every((other) => !candidate.openNeeds.includes(other.candidate.id)),
    );
    free.sort((a, b) => rateOf(b) - rateOf(a) || compareCodeUnits(a.candidate.id, b.candidate.id));
    const next = free[0] ?? waiting[0]!;
    order.push(next);
    waiting.splice(waiting.indexOf(next), 1);
  }
  return order;
}

function* rankCandidates(
  candidates: readonly Candidate[],
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  blockHours: number,
): Steps<RankedCandidate[]> {
  const sets: { set: JointSet; group: number; turn: number }[] = [];
  for (const [group, numbers] of dependencyGroups(candidates, valuer).entries()) {
    const members = numbers.map((number) => candidates[number]!);
    const own = yield* jointSetsInSteps(members, prepared, valuer, blockHours);
    own.forEach((set, turn) => void sets.push({ set, group, turn }));
  }
  sets.sort((a, b) => b.set.rate - a.set.rate || a.group - b.group || a.turn - b.turn);
  return sets.flatMap(({ set }) => rankedMembers(set));
}

/** The members of one set in order. */
function rankedMembers(set: JointSet): RankedCandidate[] {
  const { rate: setRate, atMost } = set;
  // Techniques that are in no set are practised alone, in order of id.
  if (setRate === 0)
    return set.members.map((member): RankedCandidate => ({
      ...member,
      setGainPerHour: setRate,
      othersInSet: [],
      package: null,
    }));
  const order = orderWithinSet(set);
  const whole = packageOf(order, set);
  return order.map((member): RankedCandidate => ({
    ...member,
    setGainPerHour: setRate,
    package: whole,
    othersInSet: set.members
      .filter((other) => other.candidate !== member.candidate)
      .map(({ candidate }) => candidate.id),
    ...(atMost !== undefined && { atMost }),
  }));
}

/** The members of a set as a package; null for one technique alone. */
function packageOf(order: JointSet['members'], { further }: JointSet): RankedCandidate['package'] {
  if (order.length < 2 && further.length === 0) return null;
  const blocks = [...order, ...further].reduce((sum, part) => sum + part.blocks, 0);
  return {
    blocks,
    members: order.map(({ candidate }) => candidate.id),
    further: further.map(({ technique }) => technique),
  };
}

/**
 * Puts the techniques of a route in order, best first: by the gain per hour of the set each is practised in, which
 * includes its needs or the techniques that need it. The caller can keep `cache` and pass it again in later calls
 * for the same route.
 */
export const orderCandidates = inOneGo(orderCandidatesInSteps);

/** The same in steps. */
export function* orderCandidatesInSteps(input: RankInput, cache?: ModelCache): Steps<RankingOrder> {
  return yield* orderPreparedInSteps(input, yield* prepareModelInSteps(input, cache));
}

/** Like {@link orderCandidates}, for a prepared model of the same input, in which a few values may be replaced. */
export const orderPrepared = inOneGo(orderPreparedInSteps);

/** The same in steps. */
export function* orderPreparedInSteps(input: RankInput, prepared: PreparedModel): Steps<RankingOrder> {
  const { objective, valuer, target } = yield* valueByObjectiveInSteps(input, prepared);
  const standings = yield* standingsOfInSteps(input, prepared);
  const { candidates, skipped } = yield* chooseCandidatesInSteps(input, prepared, valuer, standings);
  const blockHours = clampBlockMinutes(input.options.blockMinutes) / 60;
  return {
    prepared,
    objective,
    target,
    standings,
    candidates,
    skipped,
    ranked: yield* rankCandidates(candidates, prepared, valuer, blockHours),
  };
}

/**
 * The place of one candidate, as {@link orderCandidates} gives it. Only the candidates of its group are computed.
 *
 * @param group the group that contains the candidate, from `dependencyGroups`
 */
export function* rankCandidateInSteps(
  id: string,
  group: readonly Candidate[],
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  blockHours: number,
): Steps<RankedCandidate | undefined> {
  const sets = yield* jointSetsInSteps(group, prepared, valuer, blockHours);
  return sets.flatMap(rankedMembers).find(({ candidate }) => candidate.id === id);
}
