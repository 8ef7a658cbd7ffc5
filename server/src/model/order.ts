/**
 * The order in which techniques are worth practising, without the numbers that are only shown: what a ranking's rows
 * and the choice of a practice set both stand on.
 */
import { chooseCandidates } from './candidates.ts';
import type { Candidate, Skipped } from './candidates.ts';
import { closedSets } from './closure.ts';
import type { ClosedSet } from './closure.ts';
import { gainCurve, plannedMinutes } from './forecast.ts';
import { byText, logit } from './numbers.ts';
import { chanceAbove } from './estimates.ts';
import { objectiveOf } from './objective.ts';
import { prepare } from './prepare.ts';
import type { RankCache } from './memory.ts';
import type { Prepared, RankInput } from './prepare.ts';
import type { TargetObjective } from './types.ts';

/** A candidate with its place in the order and the blocks chosen for it. */
export interface Placed {
  readonly candidate: Candidate;
  /** Expected gain by the objective after n daily blocks, n from 0. */
  readonly gains: Float64Array;
  readonly blocks: number;
  /** Gain of the set it is practised in, per hour; 0 where no set takes it up. */
  readonly setRate: number;
  /** The other techniques of that set. */
  readonly company: readonly string[];
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
function withinSet(
  set: ClosedSet,
  candidates: readonly Candidate[],
  rateOf: (item: number) => number,
): number[] {
  const waiting = set.members.map((m) => m.item);
  const order: number[] = [];
  while (waiting.length > 0) {
    const free = waiting.filter((item) =>
      waiting.every((other) => !candidates[item]!.openNeeds.includes(candidates[other]!.id)),
    );
    free.sort((a, b) => rateOf(b) - rateOf(a) || byText(candidates[a]!.id, candidates[b]!.id));
    const next = free[0] ?? waiting[0]!;
    order.push(next);
    waiting.splice(waiting.indexOf(next), 1);
  }
  return order;
}

/** The blocks with the best gain per hour for a technique that no set took up. */
function loneStop(gains: Float64Array): number {
  let best = 1;
  for (let n = 2; n < gains.length; n++) if (gains[n]! / n > gains[best]! / best) best = n;
  return best;
}

function placeAll(
  candidates: readonly Candidate[],
  curves: readonly Float64Array[],
  blockHours: number,
): Placed[] {
  const numbers = new Map(candidates.map((c, i) => [c.id, i]));
  const items = candidates.map((candidate, i) => ({
    gains: curves[i]!,
    needs: candidate.openNeeds.flatMap((need) => numbers.get(need) ?? []),
    readyAt: candidate.readyAt,
  }));
  const placed: Placed[] = [];
  const seen = new Set<number>();
  for (const set of closedSets(items, blockHours)) {
    const blocks = new Map(set.members.map((m) => [m.item, m.blocks]));
    const rateOf = (item: number): number => curves[item]![blocks.get(item)!]! / blocks.get(item)!;
    for (const item of withinSet(set, candidates, rateOf)) {
      seen.add(item);
      placed.push({
        candidate: candidates[item]!,
        gains: curves[item]!,
        blocks: blocks.get(item)!,
        setRate: set.rate,
        company: set.members.filter((m) => m.item !== item).map((m) => candidates[m.item]!.id),
      });
    }
  }
  candidates.forEach((candidate, i) => {
    if (seen.has(i)) return;
    const blocks = loneStop(curves[i]!);
    placed.push({ candidate, gains: curves[i]!, blocks, setRate: 0, company: [] });
  });
  return placed;
}

/**
 * Puts the techniques of a route in order, best first: by the gain per hour of the set each is practised in, its
 * needs or what it opens included. `cache`, where given, is kept by the caller from one question to the next.
 */
export function putInOrder(input: RankInput, cache?: RankCache): Order {
  const prepared = prepare(input, cache);
  const { valueOf, target } = objectiveOf(input, prepared);
  const { candidates, skipped } = chooseCandidates(input, prepared, valueOf);
  const curves = candidates.map(({ subject, levels, worth }) => {
    if (worth.breakEven === null) return new Float64Array(levels.practised.length);
    const { posterior, memory } = subject;
    const work = (): Float64Array => gainCurve(posterior, levels, worth.saved);
    return memory.recall('gains', [posterior, levels, worth.saved], work);
  });
  const blockHours = plannedMinutes(input.options.blockMinutes) / 60;
  return { prepared, target, candidates, skipped, placed: placeAll(candidates, curves, blockHours) };
}

/** Chance that a candidate's rate in a run is above break-even now. */
export function chanceNow({ subject, worth }: Candidate): number {
  if (worth.breakEven === null) return 0;
  return chanceAbove(subject.posterior, subject.logitsNow, logit(worth.breakEven));
}
