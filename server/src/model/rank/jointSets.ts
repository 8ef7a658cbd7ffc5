/**
 * Groups techniques into the sets in which they are best practised. Each set is valued after the sets before it are
 * learned.
 *
 * The gains of techniques that are not partners (see `interactionPartners.ts`) add up, and one exact search finds
 * all sets. The gains of partners do not add up: the best set is taken first and counted as learned, then the
 * remaining techniques are valued again.
 */
import { LevelExpectations } from '../skill/levelExpectations.ts';
import { mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { Candidate } from './candidates.ts';
import { closedSets, firstClosedSet } from './closedSets.ts';
import type { ClosedSet } from './closedSets.ts';
import { gainCurve } from '../skill/forecast.ts';
import type { PreparedModel } from '../run/preparedModel.ts';
import { runRateAfter } from './itemProviders.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';

/** A technique that is assumed to be learned, and its mean landing rate in a run. */
export interface LearnedTechnique {
  readonly technique: string;
  readonly rate: number;
}

/** A candidate with its worth after the partners before it are learned. */
export interface ValuedCandidate {
  readonly candidate: Candidate;
  /** Expected gain by the objective after n daily blocks, n from 0. */
  readonly gains: Float64Array;
  readonly learnedPartners: readonly LearnedTechnique[];
}

/** Techniques practised together. */
export interface JointSet {
  readonly members: readonly (ValuedCandidate & { readonly blocks: number })[];
  /** Members of earlier sets that get further blocks in this one, with the number of those. */
  readonly further: readonly { readonly technique: string; readonly blocks: number }[];
  /** Gain per hour; 0 if there is nothing to gain. */
  readonly rate: number;
  /** An upper bound of the gain per hour of any set; given only if not every choice among partners was tried. */
  readonly atMost?: number;
}

/** How many times a set with two conflicting partners is split: once without the first, once without the second. */
const maxSplits = 20;

/** If a partner lowers a gain by less than this share, the two are not in conflict. */
const negligibleLoss = 0.02;

/** Groups of candidates (by their numbers) that are connected by needs or are partners; each group in rising order. */
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

/** The sets of one group, in order. A last set, with rate 0, contains the candidates whose practice gains nothing. */
export function* jointSetsInSteps(
  group: readonly Candidate[],
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  blockHours: number,
): Steps<JointSet[]> {
  const candidateValuer = new CandidateValuer(prepared, valuer);
  const left = new Map(group.map((candidate) => [candidate.id, candidate]));
  const learned = new Map<string, number>();
  const practised = new Map<string, number>();
  const sets: JointSet[] = [];
  const independent = group.every(({ id }) => group.every((other) => !valuer.partners(id).has(other.id)));
  while (left.size > 0) {
    const valued = yield* mapInSteps(left.values(), (one) => candidateValuer.value(one, left, learned));
    const found: BestSet[] = [];
    if (independent) {
      for (const set of closedSets(closureItems(valued), blockHours)) found.push({ set, from: valued });
    } else {
      const best = yield* bestSet(valued, candidateValuer, blockHours, { left: maxSplits });
      if (best !== null) found.push(best);
    }
    for (const { set, from, atMost } of found) {
      const members = set.members.map(({ item, blocks }) => ({ ...from[item]!, blocks }));
      // With exact arithmetic the rates of one group hardly ever rise; sets that were found first must stay first.
      const rate = Math.min(set.rate, sets.at(-1)?.rate ?? Infinity);
      const further = set.extended.map(({ item, blocks }) => {
        const technique = from[item]!.candidate.id;
        const extra = blocks - (practised.get(technique) ?? 0);
        practised.set(technique, blocks);
        return { technique, blocks: extra };
      });
      sets.push({ members, further, rate, ...(atMost !== undefined && { atMost }) });
      for (const { candidate, blocks } of members) practised.set(candidate.id, blocks);
      for (const { candidate, blocks } of members) {
        left.delete(candidate.id);
        learned.set(candidate.id, candidateValuer.runRateAfter(candidate, blocks));
      }
    }
    if (independent || found.length === 0) break;
  }
  const rest = yield* mapInSteps(left.values(), (one) => candidateValuer.value(one, left, learned));
  if (rest.length > 0)
    sets.push({
      members: rest.map((one) => ({ ...one, blocks: bestBlocksAlone(one.gains) })),
      further: [],
      rate: 0,
    });
  return sets;
}

/** The number of blocks with the best gain per hour for a technique that is in no set. */
function bestBlocksAlone(gains: Float64Array): number {
  let best = 1;
  for (let n = 2; n < gains.length; n++) if (gains[n]! / n > gains[best]! / best) best = n;
  return best;
}

/** Values candidates and caches the results. */
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

  /**
   * Values a candidate for the run that also uses the learned techniques and everything that must be practised
   * before it.
   */
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
    const gains = memory.getOrCompute(name, [posterior, levels, worth.saved], () => {
      if (worth.breakEven === null) return new Float64Array(levels.practised.length);
      if (learnedPartners.length === 0) return gainCurve(posterior, levels, worth.saved);
      // A technique with many partners is valued after each of them.
      const expectations = memory.getOrCompute(
        'level expectations',
        [posterior, worth.saved.from, worth.saved.step, worth.saved.values.length],
        () => new LevelExpectations(posterior, worth.saved),
      );
      return gainCurve(posterior, levels, worth.saved, (level) => expectations.at(level, worth.saved));
    });
    return { candidate: { ...candidate, worth }, gains, learnedPartners };
  }

  /** Whether practising one technique for its blocks lowers the gain of the other noticeably. */
  conflicts(one: ValuedCandidate, blocks: number, other: ValuedCandidate, otherBlocks: number): boolean {
    if (!this.valuer.partners(one.candidate.id).has(other.candidate.id)) return false;
    const before = new Map(other.learnedPartners.map(({ technique, rate }) => [technique, rate]));
    before.set(one.candidate.id, this.runRateAfter(one.candidate, blocks));
    const gain = this.valueGiven(other.candidate, before).gains[otherBlocks]!;
    return gain < (1 - negligibleLoss) * other.gains[otherBlocks]!;
  }
}

/** The remaining candidates that must be practised before a candidate, directly or indirectly. */
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
  /** The candidates that the item numbers of `set` refer to. */
  readonly from: readonly ValuedCandidate[];
  readonly atMost?: number;
}

/**
 * The set with the greatest gain per hour in which no two members conflict (one lowers the gain of the other). If
 * two members of the best set conflict, the best set without the first and the best set without the second are
 * compared.
 */
function* bestSet(
  valued: readonly ValuedCandidate[],
  candidateValuer: CandidateValuer,
  blockHours: number,
  splits: { left: number },
): Steps<BestSet | null> {
  const set = firstClosedSet(closureItems(valued), blockHours);
  yield;
  if (set === null) return null;
  const conflict = yield* findConflict(set, valued, candidateValuer);
  if (conflict === null) return { set, from: valued };
  const ways = conflict.map((item) => withoutCandidate(valued, valued[item]!.candidate));
  if (splits.left <= 0) {
    const [first, second] = conflict.map((item) => {
      const { blocks } = set.members.find((member) => member.item === item)!;
      return valued[item]!.gains[blocks]! / blocks;
    });
    const best = yield* bestSet(first! < second! ? ways[0]! : ways[1]!, candidateValuer, blockHours, splits);
    return best === null ? null : { ...best, atMost: Math.max(set.rate, best.atMost ?? 0) };
  }
  splits.left--;
  const a = yield* bestSet(ways[0]!, candidateValuer, blockHours, splits);
  const b = yield* bestSet(ways[1]!, candidateValuer, blockHours, splits);
  if (!a || !b) return a ?? b ?? null;
  const better = b.set.rate > a.set.rate ? b : a;
  const atMost = Math.max(a.atMost ?? 0, b.atMost ?? 0);
  return atMost > better.set.rate ? { set: better.set, from: better.from, atMost } : better;
}

/** Two members of which the first lowers the gain of the second, and neither was valued with the other as learned. */
function* findConflict(
  { members }: ClosedSet,
  valued: readonly ValuedCandidate[],
  candidateValuer: CandidateValuer,
): Steps<[number, number] | null> {
  for (const one of members) {
    for (const other of members) {
      if (one === other) continue;
      yield;
      const [a, b] = [valued[one.item]!, valued[other.item]!];
      const counted = [a.learnedPartners, b.learnedPartners].some((learnedPartners, i) =>
        learnedPartners.some(({ technique }) => technique === [b, a][i]!.candidate.id),
      );
      if (!counted && candidateValuer.conflicts(a, one.blocks, b, other.blocks))
        return [one.item, other.item];
    }
  }
  return null;
}

/** All candidates except one and those that wait for it. */
function withoutCandidate(valued: readonly ValuedCandidate[], gone: Candidate): ValuedCandidate[] {
  const all = new Map(valued.map(({ candidate }) => [candidate.id, candidate]));
  return valued.filter(
    ({ candidate }) =>
      candidate.id !== gone.id && !prerequisitesOf(candidate, all).some(({ id }) => id === gone.id),
  );
}
