import type { StandingReport } from '../../protocol/standing.ts';
import { standingTitle } from '../../queries/standingText.ts';
import { formatDate } from '../../text/calendar.ts';
import {
  formatCount,
  formatHours,
  formatPercent,
  formatPercentRange,
  formatSeconds,
} from '../../text/format.ts';
import { formatTime } from '../../text/time.ts';
import type { BestTimes } from './bestTimes.ts';
import type { Period, PeriodUnit } from './progressPeriods.ts';
import type { CountedRate, ProgressReport, TechniqueProgress } from './progressReport.ts';

/** One of the periods, as the head of a column says it. */
export const unitTitles: Readonly<Record<PeriodUnit, string>> = {
  week: 'Week',
  month: 'Month',
  quarter: 'Quarter',
  year: 'Year',
  period: 'Years',
};

/** The periods of a report in words: `6 weeks`. */
export function periodsText({ unit, periods }: Pick<ProgressReport, 'unit' | 'periods'>): string {
  return formatCount(periods.length, unit);
}

/** A period within a sentence: `the week of 2026-10-05`, `2026-10`. */
function periodName({ unit }: Pick<ProgressReport, 'unit'>, { label }: Period): string {
  return unit === 'week' ? `the ${label}` : label;
}

/** Whether the report shows less than all that was logged. */
export function isCut({ periods, firstDay }: Pick<ProgressReport, 'periods' | 'firstDay'>): boolean {
  return firstDay < (periods[0]?.from ?? firstDay);
}

/** Which stretch is shown and how much was logged in it, in whole sentences. */
export function summaryText(report: ProgressReport): string {
  const { periods, asOfDay, firstDay, practice, times } = report;
  const from = Math.max(periods[0]?.from ?? firstDay, firstDay);
  const said = `${periodsText(report)}, from ${formatDate(from)} to ${formatDate(asOfDay)}: ${formatHours(practice.shownMinutes / 60)} of practice, ${formatCount(times.finishedInPeriods, 'finished run')} with a final time.`;
  if (!isCut(report)) return said;
  return `${said} In all, since ${formatDate(firstDay)}: ${formatHours(practice.allMinutes / 60)} of practice, ${formatCount(times.finished, 'finished run')}.`;
}

/** A rate as it was counted: `0 %` and `100 %` are true of a count, though an estimate would not say them. */
export function countedPercent({ landed, tries, rate }: CountedRate): string {
  if (landed === 0) return '0 %';
  return landed === tries ? '100 %' : formatPercent(rate);
}

/** What was counted: `12 of 20, 60 % (46 to 73 %)`; the range where there are few tries. */
export function rateText(counted: CountedRate): string {
  const { landed, tries, range } = counted;
  const many = `${landed} of ${tries}, ${countedPercent(counted)}`;
  return range === null ? many : `${many} (${formatPercentRange(range)})`;
}

/** Where a technique stands, as a word with the date from which that holds: `In the run since 2026-10-20`. */
export function standingWords(standing: StandingReport | undefined): string {
  if (standing === undefined) return '';
  const { since } = standing;
  return standingTitle(standing.standing) + (since === null ? '' : ` since ${since}`);
}

/** How long a technique was practised: `3.4 h of practice`, and how much of it in the shown periods. */
export function practisedText(
  { allMinutes, shownMinutes }: Pick<TechniqueProgress, 'allMinutes' | 'shownMinutes'>,
  report: Pick<ProgressReport, 'unit' | 'periods' | 'firstDay'>,
): string {
  if (allMinutes === 0) return 'No practice logged';
  const all = `${formatHours(allMinutes / 60)} of practice`;
  return isCut(report)
    ? `${all}, ${shownMinutes === 0 ? 'none' : formatHours(shownMinutes / 60)} in ${periodsText(report)}`
    : all;
}

/** The landing rates of the shown periods in a sentence, for people who cannot see the chart. */
export function ratesSentence({ practice, run }: TechniqueProgress, report: ProgressReport): string {
  const { periods } = report;
  const told = (where: string, { points, shown }: TechniqueProgress['practice']): string => {
    if (shown === null) return `${where}: no try counted.`;
    const tried = points.flatMap((point, at) =>
      point ? [{ point, when: periodName(report, periods[at]!) }] : [],
    );
    const [first, last] = [tried[0]!, tried[tried.length - 1]!];
    const way =
      first === last
        ? `, all in ${first.when}`
        : `; ${countedPercent(first.point)} in ${first.when}, ${countedPercent(last.point)} in ${last.when}`;
    return `${where}: ${rateText(shown)}${way}.`;
  };
  return `${told('In practice', practice)} ${told('In runs', run)}`;
}

/** A final time for people, with one decimal. */
export function clock(seconds: number): string {
  return formatTime(seconds, 1);
}

/** `41:30`, and `41:30.5` where the target has tenths. */
export function targetClock(seconds: number): string {
  return formatTime(seconds, seconds % 1 === 0 ? 0 : 1);
}

/** The best time, and how far it is from the target, in whole sentences. */
export function bestText({ best, target }: BestTimes): string {
  if (best === null) return 'No finished run with a final time is logged yet.';
  const said = `The best finished time is ${clock(best.seconds)}, of ${best.start.slice(0, 10)}.`;
  if (target === null) return said;
  const left = best.seconds - target;
  const way =
    Math.abs(left) < 0.05
      ? 'the same'
      : `${formatSeconds(Math.abs(left))} ${left > 0 ? 'less than that' : 'more than that'}`;
  return `${said} The target, ${targetClock(target)}, is ${way}.`;
}

/** How much was practised, and in which period most, in a sentence. */
export function hoursText(report: ProgressReport): string {
  const { practice, periods, unit } = report;
  const { byPeriod, shownMinutes } = practice;
  if (practice.allMinutes === 0) return 'No practice is logged yet.';
  if (shownMinutes === 0) return 'No practice is logged in the time shown.';
  const at = byPeriod.reduce((most, one, i) => (one.hoursAWeek > byPeriod[most]!.hoursAWeek ? i : most), 0);
  const when = periodName(report, periods[at]!);
  const each = unit === 'week' ? '' : ' a week';
  return `${formatHours(shownMinutes / 60)} of practice in the time shown, most in ${when}: ${formatHours(byPeriod[at]!.hoursAWeek)}${each}.`;
}
