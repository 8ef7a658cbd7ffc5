/** What happened to a technique before today: competent, slipped or costly in runs, taken up, put aside. */
import { forecastLevels } from '../skill/forecast.ts';
import type { PracticeHistory } from '../skill/practiceHistory.ts';
import { chanceRunRateAbove, practiceLogits } from '../skill/rateEstimates.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import type { FittedTechnique, PreparedModel } from '../run/preparedModel.ts';
import { GrowingEvidence, pastChances } from './pastChances.ts';
import type { PastChance } from './pastChances.ts';
import type { SlipTests } from './slipTests.ts';

/** What is asked of a technique in runs, and what the runs of earlier evenings say. */
export interface Bar {
  /** Log odds of the landing rate from which trying it pays. */
  readonly edge: number;
  /** Asked chance that trying it pays, 0 to 1. */
  readonly confidence: number;
  /** The slip tests on the morning after a day, from the entries up to that day. */
  readonly slipsAfter: (day: number) => Pick<SlipTests, 'slipped'>;
  /** Minutes of a block of practice. */
  readonly blockMinutes: number;
}

/** A technique that was competent is so no longer when the chance that trying it pays falls under this. */
export const fallenBelow = 0.5;

/** The latest evening that decided whether a technique is competent. */
export interface Verdict {
  readonly kind: 'competent' | 'slipped' | 'costs time' | 'fallen';
  readonly day: number;
}

/** What the runs up to an evening say against a technique that is tried in them. */
function complaintAfter(
  { technique: { id } }: FittedTechnique,
  { day, chance }: PastChance,
  { confidence, slipsAfter }: Bar,
): 'slipped' | 'costs time' | null {
  if (slipsAfter(day).slipped(id)) return 'slipped';
  return chance <= 1 - confidence ? 'costs time' : null;
}

/**
 * The latest verdict on a technique, found by looking back from its latest entries; null if no evening decided.
 *
 * A technique that is tried in runs is accused by them (slipped, costs time) until it is competent again; one that
 * is not tried only rises and falls.
 */
export function lastVerdict(subject: FittedTechnique, prepared: PreparedModel, bar: Bar): Verdict | null {
  const tried = subject.technique.state === 'in-run';
  let fallen: Verdict | null = null;
  for (const evening of pastChances(subject, prepared, bar.edge)) {
    const { day, chance } = evening;
    const complaint = tried ? complaintAfter(subject, evening, bar) : null;
    if (complaint !== null) return { kind: complaint, day };
    if (chance >= bar.confidence) return fallen ?? { kind: 'competent', day };
    if (chance < fallenBelow) {
      fallen = { kind: 'fallen', day };
      if (!tried) return fallen;
    }
  }
  return null;
}

/** Whether a technique was competent after any of its evenings that are remembered. */
export function wasCompetent(subject: FittedTechnique, prepared: PreparedModel, bar: Bar): boolean {
  return pastChances(subject, prepared, bar.edge).some(({ chance }) => chance >= bar.confidence);
}

/** The last day on which a technique was tried in runs; -Infinity where it never was. */
export function lastRunDay({ log: { runs } }: FittedTechnique): number {
  return runs.reduce((latest, { day }) => Math.max(latest, day), -Infinity);
}

/**
 * The latest evening of runs of a technique if it slipped there and was not practised since; otherwise null. A block that was
 * broken off before its half is no answer to a slip.
 */
export function unansweredSlip(subject: FittedTechnique, { slipsAfter, blockMinutes }: Bar): number | null {
  const { technique, history } = subject;
  const day = lastRunDay(subject);
  if (day === -Infinity || technique.state !== 'in-run') return null;
  const since = history.practised.filter((practised) => practised.day >= day);
  if (since.reduce((sum, { minutes }) => sum + minutes, 0) >= blockMinutes / 2) return null;
  return slipsAfter(day).slipped(technique.id) ? day : null;
}

/** The first of the evenings, up to `last`, after each of which the runs spoke against the technique. */
export function accusedSince(
  subject: FittedTechnique,
  prepared: PreparedModel,
  bar: Bar,
  last: number,
): number {
  let since = last;
  for (const evening of pastChances(subject, prepared, bar.edge)) {
    if (evening.day > last) continue;
    if (evening.day < last && complaintAfter(subject, evening, bar) === null) break;
    since = evening.day;
  }
  return since;
}

/** How far back the evening is looked for on which a technique became competent, in days. */
const recentDays = 28;

/**
 * The evening after which a competent technique became so: the first whose chance reached the confidence and after
 * which it did not fall again. Null if it was not practised in the last four weeks, or became so before them.
 */
export function competentSince(subject: FittedTechnique, prepared: PreparedModel, bar: Bar): number | null {
  const from = prepared.asOfDay - recentDays;
  if ((subject.history.practised.at(-1)?.day ?? -Infinity) < from) return null;
  let since: number | null = null;
  for (const { day, chance } of pastChances(subject, prepared, bar.edge)) {
    if (chance < fallenBelow) break;
    if (chance >= bar.confidence) since = day;
  }
  return since !== null && since >= from ? since : null;
}

/** Not practised for so many days and for so many sessions with others: the runner has given it up. */
export const givenUp = { days: 14, sessions: 6 } as const;

/** Days on which any technique was practised, in rising order. */
export function sessionDays({ fittedTechniques }: PreparedModel): number[] {
  const days = new Set<number>();
  for (const { history } of fittedTechniques.values()) for (const { day } of history.practised) days.add(day);
  return [...days].sort((a, b) => a - b);
}

function sessionsBetween(sessions: readonly number[], after: number, before: number): number {
  return sessions.filter((day) => day > after && day < before).length;
}

/** Sessions since the last entry of a technique if the runner has given it up by then; otherwise null. */
export function sessionsWithout(
  subject: FittedTechnique,
  sessions: readonly number[],
  asOfDay: number,
): { readonly sessions: number; readonly lastDay: number } | null {
  const { day: lastDay } = subject.history.state;
  if (lastDay === null) return null;
  return gaveUp(sessions, lastDay, asOfDay + 1)
    ? { sessions: sessionsBetween(sessions, lastDay, asOfDay + 1), lastDay }
    : null;
}

function gaveUp(sessions: readonly number[], lastDay: number, before: number): boolean {
  return (
    before - 1 - lastDay >= givenUp.days && sessionsBetween(sessions, lastDay, before) >= givenUp.sessions
  );
}

/** Practice since a technique was taken up: days, minutes, and the first of the days. */
export interface PracticeSince {
  readonly days: number;
  readonly minutes: number;
  readonly from: number;
}

/** The practice of a technique since it was last taken up; null if it was never practised. */
export function practiceSinceTakenUp(
  { history: { practised } }: FittedTechnique,
  sessions: readonly number[],
): PracticeSince | null {
  const last = practised.at(-1);
  if (last === undefined) return null;
  let since: PracticeSince = { from: last.day, days: 0, minutes: 0 };
  for (const { day, minutes } of practised.toReversed()) {
    if (gaveUp(sessions, day, since.from)) break;
    since = { from: day, days: since.days + 1, minutes: since.minutes + minutes };
  }
  return since;
}

/** When a technique is put aside: not before so much practice, and only under this chance that it will pay. */
export const asideRule = { days: 5, minutes: 120, chance: 0.1 } as const;

/** The rule's verdict on a technique: the practice it has had, the chance that it will pay, the day after which. */
export interface Hopeless extends PracticeSince {
  readonly chance: number;
  readonly day: number;
}

/**
 * Whether the rule puts a technique aside after its latest practice; null if not. Practice after the rule spoke
 * takes the technique up anew, and the rule waits for so much practice again.
 */
export function hopeless(
  subject: FittedTechnique,
  prepared: PreparedModel,
  taken: PracticeSince,
  bar: Bar,
  blockMinutes: number,
): Hopeless | null {
  const { history, posterior } = subject;
  const last = history.practised.at(-1)!.day;
  const chanceNow = chanceWithinHorizon({ history, posterior }, prepared, last, bar, blockMinutes);
  if (chanceNow >= asideRule.chance) return null;
  const evidence = new GrowingEvidence(subject, prepared);
  const states = new Map(history.states.map((state) => [state.day, state]));
  let since = { days: 0, minutes: 0, from: taken.from };
  for (const { day, minutes } of history.practised) {
    if (day < taken.from) continue;
    since = { ...since, days: since.days + 1, minutes: since.minutes + minutes };
    if (since.days < asideRule.days || since.minutes < asideRule.minutes) continue;
    if (day === last) return { ...since, chance: chanceNow, day };
    evidence.addUpTo(day);
    const then = { ...history, state: states.get(day)! };
    const level = levelAtHorizon(then, prepared, day, blockMinutes);
    if (evidence.chanceRunRateAbove(level, bar.edge) < asideRule.chance)
      since = { days: 0, minutes: 0, from: day + 1 };
  }
  return null;
}

/** Chance that trying a technique in runs pays after the horizon's daily blocks, counted from the day after `day`. */
export function chanceWithinHorizon(
  { history, posterior }: { readonly history: PracticeHistory; readonly posterior: SkillPosterior },
  prepared: PreparedModel,
  day: number,
  { edge }: Bar,
  blockMinutes: number,
): number {
  const level = levelAtHorizon(history, prepared, day, blockMinutes);
  return chanceRunRateAbove(posterior, practiceLogits(posterior, level), edge);
}

/** Level of practice after the horizon's daily blocks, counted from the day after `day`. */
function levelAtHorizon(
  history: PracticeHistory,
  { constants }: PreparedModel,
  day: number,
  blockMinutes: number,
): number {
  return forecastLevels(history, day + 1, blockMinutes, constants).practised.at(-1)!;
}
