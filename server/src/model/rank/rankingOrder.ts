/**
 * The order in which techniques are worth practising, without the numbers that are only shown: what a ranking's rows
 * and the choice of a practice set both stand on.
 */
import { chooseCandidates } from './candidates.ts';
import type { Candidate, Skipped } from './candidates.ts';
import { chanceAbove } from '../skill/rateEstimates.ts';
import { plannedMinutes } from '../skill/forecast.ts';
import type { RankCache } from '../../incremental/memoCache.ts';
import { byText, logit } from '../core/numbers.ts';
import { objectiveOf } from './objective.ts';
import { prepare } from '../run/preparedModel.ts';
import type { Prepared, RankInput } from '../run/preparedModel.ts';
import { groupsOf, inSets } from './jointSets.ts';
import type { OrderedSet, Valued } from './jointSets.ts';
import type { TargetObjective } from '../core/types.ts';
import type { Valuer } from '../run/techniqueValuer.ts';

/** A candidate with its place in the order and the blocks chosen for it. */
export interface Placed extends Valued {
  readonly blocks: number;
  /** Gain of the set it is practised in, per hour; 0 where no set takes it up. */
  readonly setRate: number;
  /** The other techniques of that set. */
  readonly company: readonly string[];
  /** Where not every choice among partners was tried: no set of them gains more per hour. */
  readonly atMost?: number;
}

export interface Order {
  readonly prepared: Prepared;
  /** The time to beat, where one was asked for. */
  readonly target: TargetObjective | null;
  /** In order of id. */
  readonly candidates: readonly Candidate[];
  readonly placed: readonly Placed[];
  readonly skipped: readonly Skipped[];
}

/** Members of a set with needs before what needs them, and the better rate first among the free ones. */
function withinSet({ members }: OrderedSet): OrderedSet['members'][number][] {
  const waiting = [...members];
  const rateOf = ({ gains, blocks }: OrderedSet['members'][number]): number => gains[blocks]! / blocks;
  const order: OrderedSet['members'][number][] = [];
  while (waiting.length > 0) {
    const free = waiting.filter(({ candidate }) =>
      waiting.every((other) => !candidate.openNeeds.includes(other.candidate.id)),
    );
    free.sort((a, b) => rateOf(b) - rateOf(a) || byText(a.candidate.id, b.candidate.id));
    const next = free[0] ?? waiting[0]!;
    order.push(next);
    waiting.splice(waiting.indexOf(next), 1);
  }
  return order;
}

function placeAll(
  candidates: readonly Candidate[],
  prepared: Prepared,
  valuer: Valuer,
  blockHours: number,
): Placed[] {
  const sets = groupsOf(candidates, valuer).flatMap((numbers, group) => {
    const members = numbers.map((number) => candidates[number]!);
    return inSets(members, prepared, valuer, blockHours).map((set, turn) => ({ set, group, turn }));
  });
  sets.sort((a, b) => b.set.rate - a.set.rate || a.group - b.group || a.turn - b.turn);
  return sets.flatMap(({ set }) => placedIn(set));
}

/** The members of one set in order. */
function placedIn(set: OrderedSet): Placed[] {
  const { rate: setRate, atMost } = set;
  // What no set takes up has no company, and stands in order of id.
  if (setRate === 0) return set.members.map((member): Placed => ({ ...member, setRate, company: [] }));
  return withinSet(set).map((member): Placed => ({
    ...member,
    setRate,
    company: set.members
      .filter((other) => other.candidate !== member.candidate)
      .map(({ candidate }) => candidate.id),
    ...(atMost !== undefined && { atMost }),
  }));
}

/**
 * Puts the techniques of a route in order, best first: by the gain per hour of the set each is practised in, its
 * needs or what it opens included. `cache`, where given, is kept by the caller from one question to the next.
 */
export function putInOrder(input: RankInput, cache?: RankCache): Order {
  const prepared = prepare(input, cache);
  const { valuer, target } = objectiveOf(input, prepared);
  const { candidates, skipped } = chooseCandidates(input, prepared, valuer);
  const blockHours = plannedMinutes(input.options.blockMinutes) / 60;
  return {
    prepared,
    target,
    candidates,
    skipped,
    placed: placeAll(candidates, prepared, valuer, blockHours),
  };
}

/**
 * One candidate as `putInOrder` places it: only those it shares a group with are looked at.
 *
 * @param group its group as `groupsOf` gives it
 */
export function placeOne(
  id: string,
  group: readonly Candidate[],
  prepared: Prepared,
  valuer: Valuer,
  blockHours: number,
): Placed | undefined {
  const sets = inSets(group, prepared, valuer, blockHours);
  return sets.flatMap(placedIn).find(({ candidate }) => candidate.id === id);
}

/** Chance that a candidate's rate in a run is above break-even now. */
export function chanceNow({ subject, worth }: Candidate): number {
  if (worth.breakEven === null) return 0;
  return chanceAbove(subject.posterior, subject.logitsNow, logit(worth.breakEven));
}
