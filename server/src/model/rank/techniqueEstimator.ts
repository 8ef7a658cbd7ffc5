/** One technique's numbers as a ranking of all gives them, at the cost of that one. */
import { assessOne } from './assess.ts';
import { chooseCandidates } from './candidates.ts';
import type { Candidate } from './candidates.ts';
import { practiceCurve } from './rateCurve.ts';
import type { PlannedBlock, PracticePoint } from './rateCurve.ts';
import { dropsOf } from './gainDistribution.ts';
import type { RankCache } from '../../incremental/memoCache.ts';
import { objectiveOf } from './objective.ts';
import { placeOne } from './rankingOrder.ts';
import { plannedMinutes } from '../skill/forecast.ts';
import { prepare } from '../run/preparedModel.ts';
import type { Prepared, RankInput } from '../run/preparedModel.ts';
import { groupsOf } from './jointSets.ts';
import type { Assessment, RankRow } from '../core/types.ts';
import type { Valuer } from '../run/techniqueValuer.ts';

/** What practice of a technique brings: a part of its row in the ranking. */
export type Gains = Pick<RankRow, 'gainPerHour' | 'low' | 'high' | 'blocks' | 'blockMinutes' | 'hours'>;

/** A technique's gains, or why it is not ranked. */
export type Standing = { readonly gains: Gains } | { readonly notRanked: string };

interface Chosen {
  readonly valuer: Valuer;
  /** By technique: all that it is placed with, itself included. */
  readonly groups: ReadonlyMap<string, readonly Candidate[]>;
  readonly notRanked: ReadonlyMap<string, string>;
}

/** Answers about single techniques of one question. What they share is worked out once, when it is first needed. */
export class CloseUp {
  private readonly input: RankInput;
  private readonly prepared: Prepared;
  private chosen: Chosen | undefined;

  /** @param cache kept by the caller from one question about a route to the next */
  constructor(input: RankInput, cache?: RankCache) {
    this.input = input;
    this.prepared = prepare(input, cache);
  }

  /** Where a technique stands now; undefined where the route has none of that id. */
  assessment(id: string): Assessment | undefined {
    const subject = this.prepared.subjects.get(id);
    return subject && assessOne(this.prepared, subject);
  }

  /** Its curve in practice, as `curveOf` gives it. */
  curve(id: string, planned: readonly PlannedBlock[], until: number): PracticePoint[] | undefined {
    const subject = this.prepared.subjects.get(id);
    return subject && practiceCurve(this.input, this.prepared, subject, planned, until);
  }

  /** Works out what all techniques share, so that a question finds it done. */
  warm(): void {
    this.chosen ??= this.choose();
  }

  /** What practice of it brings; undefined where the route has no such technique. */
  standing(id: string): Standing | undefined {
    this.chosen ??= this.choose();
    const { groups, notRanked, valuer } = this.chosen;
    const group = groups.get(id);
    const reason = notRanked.get(id);
    if (!group) return reason === undefined ? undefined : { notRanked: reason };
    const blockMinutes = plannedMinutes(this.input.options.blockMinutes);
    const placed = placeOne(id, group, this.prepared, valuer, blockMinutes / 60)!;
    const { candidate, blocks, gains } = placed;
    const hours = blocks * (blockMinutes / 60);
    const { low, high } = candidate.worth.breakEven === null ? { low: 0, high: 0 } : dropsOf(placed);
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

  private choose(): Chosen {
    const { valuer } = objectiveOf(this.input, this.prepared);
    const { candidates, skipped } = chooseCandidates(this.input, this.prepared, valuer);
    const groups = groupsOf(candidates, valuer).flatMap((numbers) => {
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
