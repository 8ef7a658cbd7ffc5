/** One technique's landing rate over time: what was counted, what is believed of the past, what practice may do. */
import { practiceEstimate, practiceLogits, runEstimate } from '../skill/rateEstimates.ts';
import { plannedMinutes } from '../skill/forecast.ts';
import { paceOf, readHistory } from '../skill/practiceHistory.ts';
import { finiteOr } from '../core/numbers.ts';
import { level, morningOf, practise } from '../skill/practiceState.ts';
import type { PracticeState } from '../skill/practiceState.ts';
import { prepare } from '../run/preparedModel.ts';
import type { RankCache } from '../../incremental/memoCache.ts';
import type { Prepared, RankInput, Subject } from '../run/preparedModel.ts';
import type { Estimate } from '../core/types.ts';

/** Landing rates on the morning of one day. */
export interface CurvePoint {
  /** Day number. */
  readonly day: number;
  /** True for what is forecast. */
  readonly ahead: boolean;
  readonly practice: Estimate;
  readonly run: Estimate;
}

/** The same, in practice alone. */
export type PracticePoint = Omit<CurvePoint, 'run'>;

/** All that was counted on one day, in practice or in runs. */
export interface CurveResult {
  readonly day: number;
  readonly inRun: boolean;
  readonly landed: number;
  readonly tries: number;
}

/** Practice that is planned for a day. */
export interface PlannedBlock {
  readonly day: number;
  readonly minutes: number;
}

export interface Curve {
  /** In the order of the days; the last of the past and the first ahead are both the morning asked about. */
  readonly points: readonly CurvePoint[];
  readonly results: readonly CurveResult[];
  /** Landing rate in a run above which trying pays; null where none does. */
  readonly breakEven: number | null;
}

/** Mornings of the past that are drawn at most. */
const mostMornings = 40;

/**
 * The curve of one technique. The past is read with all that is known today: the same curves, at the practice that
 * had been done by each morning. Ahead is the forecast under the blocks planned, up to `until`.
 *
 * @param planned blocks of this technique; days before the one asked about are left away
 * @param until day number of the last morning
 * @returns undefined where the route has no such technique
 */
export function curveOf(
  input: RankInput,
  technique: string,
  planned: readonly PlannedBlock[],
  until: number,
  cache?: RankCache,
): Curve | undefined {
  const prepared = prepare(input, cache);
  const subject = prepared.subjects.get(technique);
  if (subject === undefined) return undefined;
  return {
    points: pointsOf(input, prepared, subject, planned, until, (logits) => ({
      practice: practiceEstimate(subject.posterior, logits),
      run: runEstimate(subject.posterior, logits, prepared.rates),
    })),
    results: subject.history.days.map(({ day, inRun, landed, tries }) => ({ day, inRun, landed, tries })),
    breakEven: prepared.valuer.now(technique).breakEven,
  };
}

/** The points of a curve, of what is prepared already, with the rate in practice alone: that of runs costs more. */
export function practiceCurve(
  input: RankInput,
  prepared: Prepared,
  subject: Subject,
  planned: readonly PlannedBlock[],
  until: number,
): PracticePoint[] {
  return pointsOf(input, prepared, subject, planned, until, (logits) => ({
    practice: practiceEstimate(subject.posterior, logits),
  }));
}

type Day = Pick<CurvePoint, 'day' | 'ahead'>;

/** @param ratesAt what is said of a morning, from the log odds in practice of every curve on it */
function pointsOf<Rates>(
  input: RankInput,
  prepared: Prepared,
  subject: Subject,
  planned: readonly PlannedBlock[],
  until: number,
  ratesAt: (logits: Float64Array) => Rates,
): (Day & Rates)[] {
  const { constants } = prepared;
  const asOf = finiteOr(input.asOfDay, 0);
  const at = (day: number, state: PracticeState, ahead: boolean): Day & Rates => {
    const { effective } = morningOf(state, day, constants);
    return { day, ahead, ...ratesAt(practiceLogits(subject.posterior, level(effective, constants))) };
  };
  const past = mornings(subject, asOf).map((day) => at(day, stateBy(input, prepared, subject, day), false));
  return [...past, ...forecast(prepared, subject, planned, asOf, until, at)];
}

/** Days with something counted and the mornings after them, thinned out evenly, and the morning asked about. */
function mornings({ history }: Subject, asOf: number): number[] {
  const days = new Set<number>();
  for (const { day } of history.days) for (const d of [day, day + 1]) if (d < asOf) days.add(d);
  const all = [...days].sort((a, b) => a - b);
  const every = Math.max(1, Math.ceil(all.length / mostMornings));
  return [...all.filter((_, i) => i % every === 0), asOf];
}

/** The state after everything logged before a day; all of it for the day asked about. */
function stateBy(input: RankInput, { constants }: Prepared, subject: Subject, day: number): PracticeState {
  if (day >= input.asOfDay) return subject.history.state;
  const { technique } = subject;
  const practice = input.logs.practice.filter((entry) => entry.technique === technique.id);
  const pace = paceOf(practice, technique);
  // The pace is that of the whole log, as in the history itself.
  const before = practice
    .filter((entry) => entry.day < day)
    .map((entry) => ({ ...entry, attempts: entry.attempts ?? entry.minutes * pace }));
  const runs = input.logs.runs.filter((entry) => entry.technique === technique.id && entry.day < day);
  return readHistory(technique, before, runs, constants).state;
}

function forecast<Point>(
  { constants }: Prepared,
  { history }: Subject,
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
      const length = plannedMinutes(minutes);
      state = practise(state, day, history.pace * length, length, constants).state;
    }
  }
  return points;
}
