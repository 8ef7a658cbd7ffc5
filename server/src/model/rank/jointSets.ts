/**
 * Techniques in the sets that they are best practised in, each valued in the light of what comes before it.
 *
 * Apart from partners (see `partners.ts`) gains add up, and the sets of all members come out of one exact search.
 * Among partners they do not: there the best set is taken up, counted as learned, and the rest valued anew.
 */
import type { Candidate } from './candidates.ts';
import { closedSets } from './closedSets.ts';
import type { ClosedSet } from './closedSets.ts';
import { gainCurve } from '../skill/forecast.ts';
import type { PreparedModel } from '../run/preparedModel.ts';
import { runRateAfter } from './itemProviders.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';

/** A technique taken as learned by then, and its mean landing rate in a run. */
export interface LearnedTechnique {
  readonly technique: string;
  readonly rate: number;
}

/** A candidate with what it is worth once its partners before it are learned. */
export interface ValuedCandidate {
  readonly candidate: Candidate;
  /** Expected gain by the objective after n daily blocks, n from 0. */
  readonly gains: Float64Array;
  readonly learnedPartners: readonly LearnedTechnique[];
}

/** Techniques practised together. */
export interface JointSet {
  readonly members: readonly (ValuedCandidate & { readonly blocks: number })[];
  /** Gain per hour; 0 where there is nothing to gain. */
  readonly rate: number;
  /** Where not every choice among partners was tried: no set gains more per hour. */
  readonly atMost?: number;
}

/** How often a set with partners in it is tried without the one and without the other. */
const maxSplits = 20;

/** A partner that takes away less than this share of a gain leaves it as good as it was. */
const negligibleLoss = 0.02;

/** Numbers of the candidates joined by needs or as partners, each group in rising order. */
export function dependencyGroups(
  candidates: readonly Candidate[],
  { partners }: TechniqueValuer,
): number[][] {
  const numbers = new Map(candidates.map(({ id }, i) => [id, i]));
  const groups: number[][] = [];
  const seen = new Set<number>();
  const links = candidates.map((): Set<number> => new Set());
  candidates.forEach(({ id, openNeeds }, i) => {
    for (const other of [...openNeeds, ...partners(id)]) {
      const j = numbers.get(other);
      if (j === undefined) continue;
      links[i]!.add(j);
      links[j]!.add(i);
    }
  });
  candidates.forEach((_, first) => {
    if (seen.has(first)) return;
    const group = [first];
    seen.add(first);
    for (const i of group) {
      for (const j of links[i]!) {
        if (seen.has(j)) continue;
        seen.add(j);
        group.push(j);
      }
    }
    groups.push(group.sort((a, b) => a - b));
  });
  return groups;
}

/** The sets of one group, in order. A last one, of rate 0, holds those that no practice makes anything of. */
export function jointSets(
  group: readonly Candidate[],
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  blockHours: number,
): JointSet[] {
  const bench = new CandidateValuer(prepared, valuer);
  const left = new Map(group.map((candidate) => [candidate.id, candidate]));
  const learned = new Map<string, number>();
  const sets: JointSet[] = [];
  const apart = group.every(({ id }) => group.every((other) => !valuer.partners(id).has(other.id)));
  while (left.size > 0) {
    const valued = [...left.values()].map((candidate) => bench.value(candidate, left, learned));
    const found = apart
      ? closedSets(closureItems(valued), blockHours).map((set) => ({ set, from: valued }))
      : [bestSet(valued, bench, blockHours, { left: maxSplits })].flatMap((best) => best ?? []);
    for (const { set, from, atMost } of found as BestSet[]) {
      const members = set.members.map(({ item, blocks }) => ({ ...from[item]!, blocks }));
      // In exact numbers the rates of one group hardly ever rise; what is taken up first must stay first.
      const rate = Math.min(set.rate, sets.at(-1)?.rate ?? Infinity);
      sets.push({ members, rate, ...(atMost !== undefined && { atMost }) });
      for (const { candidate, blocks } of members) {
        left.delete(candidate.id);
        learned.set(candidate.id, bench.runRateAfter(candidate, blocks));
      }
    }
    if (apart || found.length === 0) break;
  }
  const rest = [...left.values()].map((candidate) => bench.value(candidate, left, learned));
  if (rest.length > 0)
    sets.push({ members: rest.map((one) => ({ ...one, blocks: bestBlocksAlone(one.gains) })), rate: 0 });
  return sets;
}

/** The blocks with the best gain per hour for a technique that no set took up. */
function bestBlocksAlone(gains: Float64Array): number {
  let best = 1;
  for (let n = 2; n < gains.length; n++) if (gains[n]! / n > gains[best]! / best) best = n;
  return best;
}

/** Values candidates, keeping what was worked out. */
class CandidateValuer {
  private readonly prepared: PreparedModel;
  private readonly valuer: TechniqueValuer;

  constructor(prepared: PreparedModel, valuer: TechniqueValuer) {
    this.prepared = prepared;
    this.valuer = valuer;
  }

  runRateAfter({ subject, levels }: Candidate, blocks: number): number {
    return runRateAfter(this.prepared, subject, levels, blocks);
  }

  /** A candidate once everything learned, and whatever it waits for, is in the run. */
  value(
    candidate: Candidate,
    left: ReadonlyMap<string, Candidate>,
    learned: ReadonlyMap<string, number>,
  ): ValuedCandidate {
    const by = new Map(learned);
    for (const need of prerequisitesOf(candidate, left))
      by.set(need.id, this.runRateAfter(need, need.readyAt ?? 0));
    return this.valueGiven(candidate, by);
  }

  valueGiven(candidate: Candidate, learned: ReadonlyMap<string, number>): ValuedCandidate {
    const { subject, levels, id } = candidate;
    const { posterior, memory } = subject;
    const partners = this.valuer.partners(id);
    const learnedPartners = [...learned].flatMap(([technique, rate]) =>
      partners.has(technique) ? [{ technique, rate }] : [],
    );
    const worth = this.valuer.afterLearning(id, learned);
    const name = ['gains', ...learnedPartners.map(({ technique }) => technique)].join(' ');
    const gains = memory.getOrCompute(name, [posterior, levels, worth.saved], () =>
      worth.breakEven === null
        ? new Float64Array(levels.practised.length)
        : gainCurve(posterior, levels, worth.saved),
    );
    return { candidate: { ...candidate, worth }, gains, learnedPartners };
  }

  /** Whether one technique takes something away from the other, once it has had its blocks. */
  conflicts(one: ValuedCandidate, blocks: number, other: ValuedCandidate, otherBlocks: number): boolean {
    if (!this.valuer.partners(one.candidate.id).has(other.candidate.id)) return false;
    const before = new Map(other.learnedPartners.map(({ technique, rate }) => [technique, rate]));
    before.set(one.candidate.id, this.runRateAfter(one.candidate, blocks));
    const gain = this.valueGiven(other.candidate, before).gains[otherBlocks]!;
    return gain < (1 - negligibleLoss) * other.gains[otherBlocks]!;
  }
}

/** Everything that must be practised before a candidate, of those that are left. */
function prerequisitesOf(candidate: Candidate, left: ReadonlyMap<string, Candidate>): Candidate[] {
  const found = new Set<Candidate>();
  const visit = ({ openNeeds }: Candidate): void => {
    for (const need of openNeeds) {
      const one = left.get(need);
      if (one === undefined || one.id === candidate.id || found.has(one)) continue;
      found.add(one);
      visit(one);
    }
  };
  visit(candidate);
  return [...found];
}

function closureItems(valued: readonly ValuedCandidate[]) {
  const numbers = new Map(valued.map(({ candidate }, i) => [candidate.id, i]));
  return valued.map(({ candidate, gains }) => ({
    gains,
    needs: candidate.openNeeds.flatMap((need) => numbers.get(need) ?? []),
    readyAt: candidate.readyAt,
  }));
}

interface BestSet {
  readonly set: ClosedSet;
  /** What the numbers of the set's items count. */
  readonly from: readonly ValuedCandidate[];
  readonly atMost?: number;
}

/**
 * The set with the most gain per hour in which no member takes away what another was counted for: where one does,
 * the best set without the one and without the other are held against each other.
 */
function bestSet(
  valued: readonly ValuedCandidate[],
  bench: CandidateValuer,
  blockHours: number,
  splits: { left: number },
): BestSet | null {
  const [set] = closedSets(closureItems(valued), blockHours);
  if (set === undefined) return null;
  const clash = findConflict(set, valued, bench);
  if (clash === null) return { set, from: valued };
  const ways = clash.map((item) => withoutCandidate(valued, valued[item]!.candidate));
  if (splits.left <= 0) {
    const [first, second] = clash.map((item) => {
      const { blocks } = set.members.find((member) => member.item === item)!;
      return valued[item]!.gains[blocks]! / blocks;
    });
    const best = bestSet(first! < second! ? ways[0]! : ways[1]!, bench, blockHours, splits);
    return best === null ? null : { ...best, atMost: Math.max(set.rate, best.atMost ?? 0) };
  }
  splits.left--;
  const [a, b] = ways.map((way) => bestSet(way, bench, blockHours, splits));
  if (!a || !b) return a ?? b ?? null;
  const better = b.set.rate > a.set.rate ? b : a;
  const atMost = Math.max(a.atMost ?? 0, b.atMost ?? 0);
  return atMost > better.set.rate ? { set: better.set, from: better.from, atMost } : better;
}

/** Two members of which the first takes something away from the second, neither waiting for the other. */
function findConflict(
  { members }: ClosedSet,
  valued: readonly ValuedCandidate[],
  bench: CandidateValuer,
): [number, number] | null {
  for (const one of members) {
    for (const other of members) {
      if (one === other) continue;
      const [a, b] = [valued[one.item]!, valued[other.item]!];
      const counted = [a.learnedPartners, b.learnedPartners].some((learnedPartners, i) =>
        learnedPartners.some(({ technique }) => technique === [b, a][i]!.candidate.id),
      );
      if (!counted && bench.conflicts(a, one.blocks, b, other.blocks)) return [one.item, other.item];
    }
  }
  return null;
}

/** All but one candidate and what waits for it. */
function withoutCandidate(valued: readonly ValuedCandidate[], gone: Candidate): ValuedCandidate[] {
  const all = new Map(valued.map(({ candidate }) => [candidate.id, candidate]));
  return valued.filter(
    ({ candidate }) =>
      candidate.id !== gone.id && !prerequisitesOf(candidate, all).some(({ id }) => id === gone.id),
  );
}
