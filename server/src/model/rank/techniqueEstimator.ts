/** Computes one technique's numbers, equal to those in a ranking of all techniques, without ranking all of them. */
import { runToCompletion } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { assessTechnique } from './assess.ts';
import { standingsOf, standingsOfInSteps } from '../standing/standings.ts';
import type { Standing } from '../core/standing.ts';
import { chooseCandidatesInSteps } from './candidates.ts';
import type { Candidate } from './candidates.ts';
import { buildPracticeCurve } from './rateCurve.ts';
import type { PlannedBlock, PracticePoint } from './rateCurve.ts';
import { gainDistribution } from './gainDistribution.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { valueByObjectiveInSteps } from './objectives/objectives.ts';
import { rankCandidateInSteps } from './rankingOrder.ts';
import { landingRates } from './rank.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import { prepareModel, prepareModelInSteps } from '../run/preparedModel.ts';
import type { PreparedModel, RankInput } from '../run/preparedModel.ts';
import { dependencyGroups } from './jointSets.ts';
import type { Assessment, RankRow } from '../core/results.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';

/** The gains from practising a technique: a part of its row in the ranking. */
export type PracticeGains = Pick<
  RankRow,
  | 'gainPerHour'
  | 'low'
  | 'high'
  | 'blocks'
  | 'blockMinutes'
  | 'hours'
  | 'gain'
  | 'breakEven'
  | 'runThen'
  | 'chanceCompetent'
  | 'openNeeds'
>;

/** A technique's gains, or why it is not ranked. */
export type GainsOrReason = { readonly gains: PracticeGains } | { readonly notRanked: string };

interface CandidateSelection {
  readonly valuer: TechniqueValuer;
  /** By technique: the candidates of its group, itself included. */
  readonly groups: ReadonlyMap<string, readonly Candidate[]>;
  readonly notRanked: ReadonlyMap<string, string>;
}

/**
 * Computes numbers of single techniques from one input. Values that they share are computed once, when first
 * needed.
 */
export class TechniqueEstimator {
  private readonly input: RankInput;
  private readonly prepared: PreparedModel;
  private readonly standings: ReadonlyMap<string, Standing>;
  private candidateSelection: CandidateSelection | undefined;

  /** @param cache cache that the caller can keep and pass again for the same route */
  constructor(input: RankInput, cache?: ModelCache, prepared = prepareModel(input, cache)) {
    this.input = input;
    this.prepared = prepared;
    this.standings = standingsOf(input, prepared);
  }

  /** Makes an estimator in steps. */
  static *inSteps(input: RankInput, cache?: ModelCache): Steps<TechniqueEstimator> {
    const prepared = yield* prepareModelInSteps(input, cache);
    yield* standingsOfInSteps(input, prepared);
    return new TechniqueEstimator(input, cache, prepared);
  }

  /** Where a technique stands now; undefined if the route has no technique with that id. */
  assessment(id: string): Assessment | undefined {
    const subject = this.prepared.fittedTechniques.get(id);
    return subject && assessTechnique(this.input, this.prepared, subject, this.standings.get(id)!);
  }

  /** Its landing rates in practice, as in `buildRateCurve`; undefined if the route has no such technique. */
  curve(id: string, planned: readonly PlannedBlock[], until: number): PracticePoint[] | undefined {
    const subject = this.prepared.fittedTechniques.get(id);
    return subject && buildPracticeCurve(this.input, this.prepared, subject, planned, until);
  }

  /** Computes the values that all techniques share in advance, in steps, so that the first call is faster. */
  *warmUpInSteps(): Steps<CandidateSelection> {
    return (this.candidateSelection ??= yield* this.selectCandidates());
  }

  /** The gains from practising it; undefined if the route has no such technique. */
  gains(id: string): GainsOrReason | undefined {
    return runToCompletion(this.gainsInSteps(id));
  }

  /** The same in steps. */
  *gainsInSteps(id: string): Steps<GainsOrReason | undefined> {
    const { groups, notRanked, valuer } = yield* this.warmUpInSteps();
    const group = groups.get(id);
    const reason = notRanked.get(id);
    if (!group) return reason === undefined ? undefined : { notRanked: reason };
    const blockMinutes = clampBlockMinutes(this.input.options.blockMinutes);
    const found = yield* rankCandidateInSteps(id, group, this.prepared, valuer, blockMinutes / 60);
    const rankedCandidate = found!;
    const { candidate, blocks, gains } = rankedCandidate;
    const hours = blocks * (blockMinutes / 60);
    const { runThen, chanceCompetent } = landingRates(
      rankedCandidate,
      this.prepared.rates,
      blockMinutes / 60,
    );
    const { low, high } =
      candidate.worth.breakEven === null ? { low: 0, high: 0 } : gainDistribution(rankedCandidate);
    return {
      gains: {
        gainPerHour: gains[blocks]! / hours,
        low: low / hours,
        high: high / hours,
        blocks,
        blockMinutes,
        hours,
        gain: gains[blocks]!,
        breakEven: candidate.worth.breakEven,
        runThen,
        chanceCompetent,
        openNeeds: candidate.openNeeds,
      },
    };
  }

  private *selectCandidates(): Steps<CandidateSelection> {
    const { valuer } = yield* valueByObjectiveInSteps(this.input, this.prepared);
    const { candidates, skipped } = yield* chooseCandidatesInSteps(
      this.input,
      this.prepared,
      valuer,
      this.standings,
    );
    const groups = dependencyGroups(candidates, valuer).flatMap((numbers) => {
      const group = numbers.map((number) => candidates[number]!);
      return group.map(({ id }): [string, readonly Candidate[]] => [id, group]);
    });
    return {
      valuer,
      groups: new Map(groups),
      notRanked: new Map(skipped.map(({ technique, reason }) => [technique, reason])),
    };
  }
}
