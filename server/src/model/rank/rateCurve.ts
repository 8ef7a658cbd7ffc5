/** One technique's landing rate over time: the counts, the estimates for past mornings, and the forecast. */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { practiceEstimate, practiceLogits, runEstimate } from '../skill/rateEstimates.ts';
import { clampBlockMinutes } from '../skill/forecast.ts';
import { estimatePace, readHistory } from '../skill/practiceHistory.ts';
import { finiteOr } from '../core/numbers.ts';
import { practiceLevel, stateOnMorning, applyPractice } from '../skill/practiceState.ts';
import type { PracticeState } from '../skill/practiceState.ts';
import { prepareModelInSteps } from '../run/preparedModel.ts';
import type { ModelCache } from '../core/modelCache.ts';
import type { PreparedModel, RankInput, FittedTechnique } from '../run/preparedModel.ts';
import type { Estimate } from '../core/types.ts';

/** Landing rates on the morning of one day. */
export interface CurvePoint {
  /** Day number. */
  readonly day: number;
  /** True for a forecast. */
  readonly ahead: boolean;
  readonly practice: Estimate;
  readonly run: Estimate;
}

/** A {@link CurvePoint} without the landing rate in a run. */
export type PracticePoint = Omit<CurvePoint, 'run'>;

/** All counts of one day, either in practice or in runs. */
export interface DayResult {
  readonly day: number;
  readonly inRun: boolean;
  readonly landed: number;
  readonly tries: number;
}

/** Practice planned for a day. */
export interface PlannedBlock {
  readonly day: number;
  readonly minutes: number;
}

export interface RateCurve {
  /**
   * In the order of the days. The last point of the past and the first of the forecast are both on the morning of
   * `asOfDay`.
   */
  readonly points: readonly CurvePoint[];
  readonly results: readonly DayResult[];
  /** Landing rate in a run above which trying pays; null if it pays at no rate. */
  readonly breakEven: number | null;
}

/** Largest number of past mornings in a curve. */
const maxPastMornings = 40;

/**
 * The curve of one technique. Past mornings are estimated with everything that is known today: the same learning
 * curves, at the level of practice reached by each morning. After them comes the forecast with the planned blocks,
 * up to `until`.
 *
 * @param planned blocks of this technique; those before `asOfDay` are ignored
 * @param until day number of the last morning
 * @returns undefined where the route has no such technique
 */
export const buildRateCurve = inOneGo(buildRateCurveInSteps);

/** The same in steps. */
export function* buildRateCurveInSteps(
  input: RankInput,
  technique: string,
  planned: readonly PlannedBlock[],
  until: number,
  cache?: ModelCache,
): Steps<RateCurve | undefined> {
  const prepared = yield* prepareModelInSteps(input, cache);
  const subject = prepared.fittedTechniques.get(technique);
  if (subject === undefined) return undefined;
  return {
    points: curvePoints(input, prepared, subject, planned, until, (logits) => ({
      practice: practiceEstimate(subject.posterior, logits),
      run: runEstimate(subject.posterior, logits, prepared.rates),
    })),
    results: subject.history.days.map(({ day, inRun, landed, tries }) => ({ day, inRun, landed, tries })),
    breakEven: prepared.valuer.now(technique).breakEven,
  };
}

/**
 * The points of a curve from a prepared model, only with the landing rate in practice; computing the one in runs
 * takes longer.
 */
export function buildPracticeCurve(
  input: RankInput,
  prepared: PreparedModel,
  subject: FittedTechnique,
  planned: readonly PlannedBlock[],
  until: number,
): PracticePoint[] {
  return curvePoints(input, prepared, subject, planned, until, (logits) => ({
    practice: practiceEstimate(subject.posterior, logits),
  }));
}

type CurveDay = Pick<CurvePoint, 'day' | 'ahead'>;

/** @param ratesAt gives the rates of a morning from the log odds in practice of every curve */
function curvePoints<Rates>(
  input: RankInput,
  prepared: PreparedModel,
  subject: FittedTechnique,
  planned: readonly PlannedBlock[],
  until: number,
  ratesAt: (logits: Float64Array) => Rates,
): (CurveDay & Rates)[] {
  const { constants } = prepared;
  const asOf = finiteOr(input.asOfDay, 0);
  const at = (day: number, state: PracticeState, ahead: boolean): CurveDay & Rates => {
    const { effective } = stateOnMorning(state, day, constants);
    return { day, ahead, ...ratesAt(practiceLogits(subject.posterior, practiceLevel(effective, constants))) };
  };
  const past = pastMornings(subject, asOf).map((day) =>
    at(day, practiceStateBefore(input, prepared, subject, day), false),
  );
  return [...past, ...forecast(prepared, subject, planned, asOf, until, at)];
}

/** The days with counts and the days after them, reduced evenly to a limited number, and the morning of `asOfDay`. */
function pastMornings({ history }: FittedTechnique, asOf: number): number[] {
  const days = new Set<number>();
  for (const { day } of history.days) for (const d of [day, day + 1]) if (d < asOf) days.add(d);
  const all = [...days].sort((a, b) => a - b);
  const every = Math.max(1, Math.ceil(all.length / maxPastMornings));
  return [...all.filter((_, i) => i % every === 0), asOf];
}

/** The state of practice from all entries before a day; from all entries if the day is `asOfDay`. */
function practiceStateBefore(
  input: RankInput,
  { constants }: PreparedModel,
  subject: FittedTechnique,
  day: number,
): PracticeState {
  if (day >= input.asOfDay) return subject.history.state;
  const { technique } = subject;
  const practice = input.logs.practice.filter((entry) => entry.technique === technique.id);
  const pace = estimatePace(practice, technique);
  // Uses the pace of the whole log, as {@link readHistory} does.
  const before = practice
    .filter((entry) => entry.day < day)
    .map((entry) => ({ ...entry, attempts: entry.attempts ?? entry.minutes * pace }));
  const runs = input.logs.runs.filter((entry) => entry.technique === technique.id && entry.day < day);
  return readHistory(technique, before, runs, constants).state;
}

function forecast<Point>(
  { constants }: PreparedModel,
  { history }: FittedTechnique,
  planned: readonly PlannedBlock[],
  asOf: number,
  until: number,
  at: (day: number, state: PracticeState, ahead: boolean) => Point,
): Point[] {
  const minutesOn = new Map<number, number[]>();
  for (const { day, minutes } of planned) minutesOn.set(day, [...(minutesOn.get(day) ?? []), minutes]);
  const points: Point[] = [];
  let state = history.state;
  for (let day = asOf; day <= until; day++) {
    points.push(at(day, state, true));
    for (const minutes of minutesOn.get(day) ?? []) {
      const length = clampBlockMinutes(minutes);
      state = applyPractice(state, day, history.pace * length, length, constants).state;
    }
  }
  return points;
}
