/** One technique's numbers as a ranking of all gives them, at the cost of that one. */
import { assessTechnique } from './assess.ts';
import { chooseCandidates } from './candidates.ts';
import type { Candidate } from './candidates.ts';
import { buildPracticeCurve } from './rateCurve.ts';
import type { PlannedBlock, PracticePoint } from './rateCurve.ts';
import { gainDistribution } from './gainDistribution.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { valueByObjective } from './objectives/objectives.ts';
import { rankCandidate } from './rankingOrder.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import { prepareModel } from '../run/preparedModel.ts';
import type { PreparedModel, RankInput } from '../run/preparedModel.ts';
import { dependencyGroups } from './jointSets.ts';
import type { Assessment, RankRow } from '../core/types.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';

/** What practice of a technique brings: a part of its row in the ranking. */
export type PracticeGains = Pick<
  RankRow,
  'gainPerHour' | 'low' | 'high' | 'blocks' | 'blockMinutes' | 'hours'
>;

/** A technique's gains, or why it is not ranked. */
export type GainsOrReason = { readonly gains: PracticeGains } | { readonly notRanked: string };

interface CandidateSelection {
  readonly valuer: TechniqueValuer;
  /** By technique: all that it is placed with, itself included. */
  readonly groups: ReadonlyMap<string, readonly Candidate[]>;
  readonly notRanked: ReadonlyMap<string, string>;
}

/** Answers about single techniques from one input. What they share is worked out once, when it is first needed. */
export class TechniqueEstimator {
  private readonly input: RankInput;
  private readonly prepared: PreparedModel;
  private selection: CandidateSelection | undefined;

  /** @param cache kept by the caller from one answer about a route to the next */
  constructor(input: RankInput, cache?: ModelCache) {
    this.input = input;
    this.prepared = prepareModel(input, cache);
  }

  /** Where a technique stands now; undefined where the route has none of that id. */
  assessment(id: string): Assessment | undefined {
    const subject = this.prepared.fittedTechniques.get(id);
    return subject && assessTechnique(this.prepared, subject);
  }

  /** Its curve in practice, as `buildRateCurve` gives it. */
  curve(id: string, planned: readonly PlannedBlock[], until: number): PracticePoint[] | undefined {
    const subject = this.prepared.fittedTechniques.get(id);
    return subject && buildPracticeCurve(this.input, this.prepared, subject, planned, until);
  }

  /** Works out what all techniques share, so that the first answer does not wait for it. */
  warmUp(): void {
    this.selection ??= this.selectCandidates();
  }

  /** What practice of it brings; undefined where the route has no such technique. */
  gains(id: string): GainsOrReason | undefined {
    this.selection ??= this.selectCandidates();
    const { groups, notRanked, valuer } = this.selection;
    const group = groups.get(id);
    const reason = notRanked.get(id);
    if (!group) return reason === undefined ? undefined : { notRanked: reason };
    const blockMinutes = clampBlockMinutes(this.input.options.blockMinutes);
    const placed = rankCandidate(id, group, this.prepared, valuer, blockMinutes / 60)!;
    const { candidate, blocks, gains } = placed;
    const hours = blocks * (blockMinutes / 60);
    const { low, high } = candidate.worth.breakEven === null ? { low: 0, high: 0 } : gainDistribution(placed);
    return {
      gains: {
        gainPerHour: gains[blocks]! / hours,
        low: low / hours,
        high: high / hours,
        blocks,
        blockMinutes,
        hours,
      },
    };
  }

  private selectCandidates(): CandidateSelection {
    const { valuer } = valueByObjective(this.input, this.prepared);
    const { candidates, skipped } = chooseCandidates(this.input, this.prepared, valuer);
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
