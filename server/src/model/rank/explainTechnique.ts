/** Explains every number of a technique's row by the numbers it was computed from, so that a reader can check it. */
import type { Constants } from '../core/constants.ts';
import { meanPracticeRate, practiceEstimate, practiceLogits, runEstimate } from '../skill/rateEstimates.ts';
import { exponential } from '../skill/curveGrid.ts';
import { headStartOf } from '../skill/curveRates.ts';
import { midwayMean } from '../skill/slotPrior.ts';
import { pressureLossEstimate, midwayEstimate } from '../skill/curveEstimates.ts';
import { groupByTechnique } from '../skill/splitLogs.ts';
import { logit } from '../core/numbers.ts';
import { resetWeightOf } from './resetPreference.ts';
import { orderCandidates } from './rankingOrder.ts';
import type { LearnedTechnique } from './jointSets.ts';
import { stateOnMorning } from '../skill/practiceState.ts';
import { practiceDays } from '../skill/practiceDays.ts';
import type { PracticeDay } from '../skill/practiceDays.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { RankInput, FittedTechnique } from '../run/preparedModel.ts';
import { bandsBetween, curveFloors } from '../skill/curveShapes.ts';
import { learnerKinds, shares } from '../skill/learnerKinds.ts';
import type { LearnerKind } from '../skill/learnerKinds.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import { runnerEstimate } from '../skill/runnerPosterior.ts';
import { interpolateTable } from '../core/rateTable.ts';
import type { Estimate, LearningState, UseModel } from '../core/types.ts';

/** One of a few possible values, with its prior probability and its probability given the logs. */
export interface WeightedValue {
  readonly value: number;
  readonly prior: number;
  readonly now: number;
}

/** A band of values, or a single one where its ends are equal, with its prior probability and that given the logs. */
export interface WeightedBand {
  readonly from: number;
  readonly to: number;
  readonly prior: number;
  readonly now: number;
}

/** The forecast after some daily blocks. */
export interface ForecastStep {
  readonly blocks: number;
  readonly hours: number;
  /** ln(1 + E/unit) on the morning after the last night, and on that morning without the blocks. */
  readonly level: number;
  readonly idleLevel: number;
  /** Mean landing rates then. */
  readonly practice: number;
  readonly run: number;
  /** Expected drop in V, in seconds, and the same per hour of practice. */
  readonly gain: number;
  readonly gainPerHour: number;
}

/** The explanation of one row. `rank --explain --json` prints the fields under these names. */
export interface Explanation {
  readonly technique: string;
  readonly difficulty: number;
  readonly state: LearningState;
  readonly days: readonly PracticeDay[];
  /** Effective attempts this morning, and ln(1 + E/unit). */
  readonly effective: number;
  readonly level: number;
  /** Attempts per minute, and whether they come from the runner's own counts. */
  readonly pace: { readonly perMinute: number; readonly counted: boolean };
  /**
   * Half-way point: expected from the difficulty alone, also with other runners' practice, also with the runner's offset, and also with this
   * technique's own counts.
   */
  readonly midway: {
    readonly rated: number;
    /** The same as `rated` where no other runner's practice is known. */
    readonly withOthers: number;
    readonly withRunner: number;
    readonly now: Estimate;
  };
  /** The value 0 stands for curves on which each attempt closes the same share of the gap to the ceiling. */
  readonly suddenness: readonly WeightedValue[];
  readonly ceiling: readonly WeightedBand[];
  readonly floor: readonly WeightedBand[];
  /** Practice before the logs began, ln(1 + E/unit); empty if the technique was first practised within the logs. */
  readonly headStart: readonly WeightedValue[];
  /** Log odds lost in runs. */
  readonly loss: Estimate;
  readonly runner: { readonly offset: Estimate; readonly pressure: Estimate };
  readonly practiceNow: Estimate;
  readonly runNow: Estimate;
  readonly uses: readonly (UseModel & { readonly segment: string })[];
  readonly breakEven: number | null;
  /** Techniques that are assumed to be learned first and that share a spot, an item or a run-ending segment with it. */
  readonly once: readonly LearnedTechnique[];
  /** Seconds by which V is lower, at landing rates in a run from 0 to 1. */
  readonly worth: readonly { readonly rate: number; readonly seconds: number }[];
  /** Null if the technique is not ranked. */
  readonly forecast: {
    readonly steps: readonly ForecastStep[];
    /** Number of blocks to the best stopping point. */
    readonly blocks: number;
    readonly blockMinutes: number;
    /**
     * Gain per hour of the set it is practised in, the other techniques of that set, and the needs that must still
     * be practised.
     */
    readonly setRate: number;
    readonly company: readonly string[];
    readonly openNeeds: readonly string[];
  } | null;
  readonly notRanked: string | null;
  readonly needs: readonly {
    readonly technique: string;
    readonly practiceNow: number;
    readonly ready: boolean;
  }[];
  /** Techniques that need this one. */
  readonly opens: readonly string[];
  /** See `RankRow.resetWeight`. */
  readonly resetWeight: number | null;
  readonly constants: Constants;
}

/**
 * Explains one technique's row. If the technique is in the run, `input.options.all` should be true.
 *
 * @returns undefined if the route has no such technique
 */
export function explainTechnique(
  input: RankInput,
  technique: string,
  cache?: ModelCache,
): Explanation | undefined {
  const { prepared, ranked: rankedCandidates, skipped } = orderCandidates(input, cache);
  const subject = prepared.fittedTechniques.get(technique);
  if (subject === undefined) return undefined;
  const { runner } = prepared;
  const constants = prepared.scaled;
  const { posterior, logitsNow, history } = subject;
  const ofTechnique = <E extends { readonly technique: string; readonly day: number }>(
    entries: readonly E[],
  ) => groupByTechnique(entries.filter(({ day }) => day <= input.asOfDay)).get(technique) ?? [];
  const logs = { practice: ofTechnique(input.logs.practice), runs: ofTechnique(input.logs.runs) };
  const rankedCandidate = rankedCandidates.find(({ candidate }) => candidate.id === technique);
  const worth = rankedCandidate?.candidate.worth ?? prepared.valuer.now(technique);
  const blockMinutes = clampBlockMinutes(input.options.blockMinutes);
  const rates = Array.from({ length: 11 }, (_, i) => i / 10);
  const offset = runnerEstimate(runner, 'offset');
  return {
    technique,
    difficulty: subject.technique.difficulty,
    state: subject.technique.state,
    days: practiceDays(subject.technique, logs, constants),
    effective: stateOnMorning(history.state, input.asOfDay, constants).effective,
    level: subject.levelNow,
    pace: {
      perMinute: history.pace,
      counted: logs.practice.some(({ attempts, minutes }) => (attempts ?? 0) > 0 && minutes > 0),
    },
    midway: {
      rated: midwayMean({ difficulty: subject.technique.difficulty }, 0, constants),
      withOthers: midwayMean(subject.technique, 0, constants),
      withRunner: midwayMean(subject.technique, offset.mean, constants),
      now: midwayEstimate(posterior),
    },
    ...curveShapeWeights(subject, constants),
    loss: pressureLossEstimate(posterior),
    runner: { offset, pressure: runnerEstimate(runner, 'pressure') },
    practiceNow: practiceEstimate(posterior, logitsNow),
    runNow: runEstimate(posterior, logitsNow, prepared.rates),
    uses: input.route.segments.flatMap(({ id, uses }) =>
      uses.filter((use) => use.technique === technique).map((use) => ({ ...use, segment: id })),
    ),
    breakEven: worth.breakEven,
    once: rankedCandidate?.learnedPartners ?? [],
    worth: rates.map((rate) => ({ rate, seconds: interpolateTable(worth.saved, logit(rate)) })),
    forecast:
      rankedCandidate === undefined
        ? null
        : {
            steps: [...rankedCandidate.gains.keys()].map((blocks): ForecastStep => {
              const level = rankedCandidate.candidate.levels.practised[blocks]!;
              const x = practiceLogits(posterior, level);
              const hours = (blocks * blockMinutes) / 60;
              const gain = rankedCandidate.gains[blocks]!;
              return {
                ...{ blocks, hours, level, idleLevel: rankedCandidate.candidate.levels.idle[blocks]!, gain },
                practice: meanPracticeRate(posterior, x),
                run: runEstimate(posterior, x, prepared.rates).mean,
                gainPerHour: hours > 0 ? gain / hours : 0,
              };
            }),
            blocks: rankedCandidate.blocks,
            blockMinutes,
            setRate: rankedCandidate.setGainPerHour,
            company: rankedCandidate.othersInSet,
            openNeeds: rankedCandidate.candidate.openNeeds,
          },
    notRanked: skipped.find((one) => one.technique === technique)?.reason ?? null,
    needs: subject.technique.needs.flatMap((id) => {
      const need = prepared.fittedTechniques.get(id);
      if (need === undefined) return [];
      const practiceNow = meanPracticeRate(need.posterior, need.logitsNow);
      const ready = need.technique.state === 'in-run' || practiceNow >= constants.readyRate;
      return [{ technique: id, practiceNow, ready }];
    }),
    opens: input.route.techniques.filter(({ needs }) => needs.includes(technique)).map(({ id }) => id),
    resetWeight: worth.breakEven === null ? null : resetWeightOf(input, technique),
    constants,
  };
}

/** Prior and posterior probability of each suddenness, band of ceilings, band of floors and head start. */
function curveShapeWeights({ posterior, history: { headStart } }: FittedTechnique, constants: Constants) {
  const { grid, curves, mass } = posterior;
  const suddenness = [...constants.steepness, exponential];
  const kinds = learnerKinds(constants);
  // Before the logs a runner is of any kind.
  const priorOf = (of: (kind: LearnerKind) => readonly number[]): number[] =>
    of(kinds[0]!).map((_, i) => kinds.reduce((sum, kind) => sum + kind.share * of(kind)[i]!, 0));
  const tally = (
    of: (curve: number) => number,
    priors: readonly number[],
  ): { prior: number; now: number }[] => {
    const sums = new Float64Array(priors.length);
    curves.forEach((curve, i) => {
      sums[of(curve)]! += mass[i]!;
    });
    return priors.map((prior, i) => ({ prior, now: sums[i]! }));
  };
  const ceilings = bandsBetween(constants.ceilings);
  const floors = curveFloors(constants, headStart);
  const starts = headStart ? constants.headStarts : [];
  return {
    suddenness: tally(
      (curve) => suddenness.indexOf(grid.pairSteepness[Math.floor(curve / grid.shapes)]!),
      priorOf(({ steepness }) => steepness),
    ).map((one, i): WeightedValue => ({ value: suddenness[i]!, ...one })),
    ceiling: tally(
      (curve) => grid.ceilingBand[curve]!,
      priorOf((kind) => kind.ceilings),
    ).map((one, i): WeightedBand => ({ ...ceilings[i]!, ...one })),
    floor: tally((curve) => grid.floorBand[curve]!, headStart ? [1] : priorOf((kind) => kind.floors)).map(
      (one, i): WeightedBand => ({ ...floors[i]!, ...one }),
    ),
    headStart: tally(
      (curve) => headStartOf(grid, curve),
      headStart ? shares(constants.headStartWeights) : [],
    ).map((one, i): WeightedValue => ({ value: starts[i]!, ...one })),
  };
}
