import { formatDate, formatWeekday, parseMoment } from '../../text/calendar.ts';
import type { Plan, OptimalityGap } from '../../model/week/planWeek.ts';
import type { UnusedMinutes } from '../../model/week/sessions.ts';
import { decimalsFor, formatTwoFigures, formatNumber } from '../../text/format.ts';
import { nameLookup } from '../../queries/names.ts';
import type { StandingReport } from '../../protocol/standing.ts';
import { standingReports } from '../standingReports.ts';
import { planNotes } from './planNotes.ts';

export interface PlanReportBlock {
  readonly technique: string;
  /** Minutes of practice, and of rest after it. */
  readonly minutes: number;
  readonly rest: number;
}

export interface PlanReportDay {
  readonly date: string;
  readonly blocks: readonly PlanReportBlock[];
  /** Minutes set aside for runs. */
  readonly runMinutes: number;
  /** Free minutes that blocks and rests do not use, and the rule that forbids their use; null if there are none. */
  readonly unused: UnusedMinutes | null;
}

/** The plan and what it is based on: `plan --json` prints it and the editor shows it. Gains are seconds of a run. */
export interface PlanReport {
  /** Date of the morning that it is for. */
  readonly asOf: string;
  /** The practice set of the first session. */
  readonly set: readonly string[];
  readonly days: readonly PlanReportDay[];
  /** Expected gain on each morning compared with no practice, with 10 and 90 % points. */
  readonly forecast: readonly {
    readonly date: string;
    readonly gain: number;
    readonly low: number;
    readonly high: number;
  }[];
  /** Expected gain on the last morning if all practice of each week were in one long session. */
  readonly oneSession: { readonly gain: number };
  readonly gap: OptimalityGap;
  /** Whole sentences, in a fixed order. */
  readonly notes: readonly string[];
  /** Swaps that the runner may want to make. */
  readonly swaps: Plan['swaps'];
  readonly standings: readonly StandingReport[];
}

/** What the report needs in addition to the plan. */
export interface PlanReportOptions {
  /** Minutes set aside for runs by day, and the minutes that the week gives each day for practice. */
  readonly runMinutes: readonly number[];
  readonly givenMinutes: readonly number[];
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
}

export function planReport(plan: Plan, words: PlanReportOptions): PlanReport {
  return {
    asOf: formatDate(plan.asOfDay),
    set: plan.set,
    days: plan.days.map(({ day, blocks, unused }, d) => ({
      date: formatDate(day),
      blocks: blocks.map(({ technique, minutes, rest }) => ({ technique, minutes, rest })),
      runMinutes: words.runMinutes[d] ?? 0,
      unused,
    })),
    forecast: plan.forecast.map(({ day, gain, low, high }) => ({ date: formatDate(day), gain, low, high })),
    oneSession: plan.oneSession,
    gap: plan.gap,
    notes: planNotes(plan, {
      nameOf: nameLookup(words.names),
      dayOf: formatDate,
      givenMinutes: words.givenMinutes,
      toldElsewhere: false,
    }),
    swaps: plan.swaps,
    standings: standingReports(plan.standings, words.names),
  };
}

/** The date of a day of the report with its weekday: `Mon 2026-11-09`. */
export function dayLabel(date: string): string {
  const moment = parseMoment(date);
  return moment ? formatWeekday(moment.date) : date;
}

/** How far the plan may be from the best one: a sentence without its full stop. */
export function gapSentence({ method, value, bound }: OptimalityGap): string {
  if (method === 'exhaustive')
    return `${formatTwoFigures(value)} s expected; of all plans that keep the rules none gains more`;
  if (bound === null) return `${formatTwoFigures(value)} s expected`;
  // Enough digits to show the difference between the two.
  const decimals = Math.min(2, decimalsFor({ low: value, high: bound }));
  const [here, most] = [formatNumber(value, decimals), formatNumber(bound, decimals)];
  return `${here} s expected; no plan that keeps the rules can gain more than ${most} s`;
}
