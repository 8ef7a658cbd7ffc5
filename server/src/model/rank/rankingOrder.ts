/**
 * The order in which techniques are worth practising, without the numbers that are only for display. Both the rows
 * of a ranking and the practice set are computed from it.
 */
import { chooseCandidates } from './candidates.ts';
import type { Candidate, SkippedTechnique } from './candidates.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { compareCodeUnits } from '../core/numbers.ts';
import type { Objective } from './objectives/objective.ts';
import { valueByObjective } from './objectives/objectives.ts';
import { prepareModel } from '../run/preparedModel.ts';
import type { PreparedModel, RankInput } from '../run/preparedModel.ts';
import { dependencyGroups, jointSets } from './jointSets.ts';
import type { JointSet, ValuedCandidate } from './jointSets.ts';
import { standingsOf } from '../standing/standings.ts';
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

function rankCandidates(
  candidates: readonly Candidate[],
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  blockHours: number,
): RankedCandidate[] {
  const sets = dependencyGroups(candidates, valuer).flatMap((numbers, group) => {
    const members = numbers.map((number) => candidates[number]!);
    return jointSets(members, prepared, valuer, blockHours).map((set, turn) => ({ set, group, turn }));
  });
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
export function orderCandidates(input: RankInput, cache?: ModelCache): RankingOrder {
  return orderPrepared(input, prepareModel(input, cache));
}

/** Like {@link orderCandidates}, for a prepared model of the same input, in which a few values may be replaced. */
export function orderPrepared(input: RankInput, prepared: PreparedModel): RankingOrder {
  const { objective, valuer, target } = valueByObjective(input, prepared);
  const standings = standingsOf(input, prepared);
  const { candidates, skipped } = chooseCandidates(input, prepared, valuer, standings);
  const blockHours = clampBlockMinutes(input.options.blockMinutes) / 60;
  return {
    prepared,
    objective,
    target,
    standings,
    candidates,
    skipped,
    ranked: rankCandidates(candidates, prepared, valuer, blockHours),
  };
}

/**
 * The place of one candidate, as {@link orderCandidates} gives it. Only the candidates of its group are computed.
 *
 * @param group the group that contains the candidate, from `dependencyGroups`
 */
export function rankCandidate(
  id: string,
  group: readonly Candidate[],
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  blockHours: number,
): RankedCandidate | undefined {
  const sets = jointSets(group, prepared, valuer, blockHours);
  return sets.flatMap(rankedMembers).find(({ candidate }) => candidate.id === id);
}
