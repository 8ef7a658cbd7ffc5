import type { ProgressView, RatePoint, TechniqueRates } from '../../protocol/panel/progressView.ts';
import { formatHours, formatList, formatNumber } from '../../text/format.ts';
import { progressTicks } from '../progress/progressTicks.ts';
import { usualMonths, type Period } from '../progress/progressPeriods.ts';
import { fewTries, type ProgressReport, type TechniqueProgress } from '../progress/progressReport.ts';
import {
  bestText,
  clock,
  hoursText,
  practisedText,
  ratesSentence,
  rateText,
  standingWords,
  summaryText,
  targetClock,
  unitTitles,
} from '../progress/progressWords.ts';
import type { StandingsById } from '../standingReports.ts';
import { numberTicks, techniqueName, type PanelNames } from './panelNames.ts';
import { timeTicks } from './timeTicks.ts';

/**
 * The look back over the months as the panel shows it.
 *
 * @param standings where the techniques stand, as far as that is known
 */
export function progressView(
  report: ProgressReport,
  standings: StandingsById,
  names: PanelNames,
): ProgressView {
  const { periods, unit, techniques } = report;
  const logged = techniques.filter(({ isLogged }) => isLogged);
  const quiet = techniques.filter(({ isLogged }) => !isLogged);
  const shown = logged.map((one) => techniqueRates(one, report, standings, names));
  return {
    summary: summaryText(report),
    months: report.months,
    choices: choicesOf(report),
    from: periods[0]?.from ?? report.asOfDay,
    until: (periods.at(-1)?.to ?? report.asOfDay) + 1,
    ticks: progressTicks(periods, unit),
    times: timesOf(report),
    hours: hoursOf(report),
    columns: [unitTitles[unit], 'In practice', 'In runs', 'Practised'],
    techniques: shown,
    mostTries: {
      practice: mostTriesOf(shown.flatMap(({ practice }) => practice)),
      run: mostTriesOf(shown.flatMap(({ run }) => run)),
    },
    rangeText: `fewer than ${fewTries} tries: in 8 of 10 cases the rate lies in this range`,
    quietText:
      quiet.length === 0
        ? ''
        : `Nothing is logged of ${formatList(quiet.map(({ technique }) => techniqueName(names, technique)))}.`,
  };
}

/** Lengths in months that can be chosen where the logs are longer. */
const lengths = [
  { months: 6, text: '6 months' },
  { months: 12, text: '12 months' },
  { months: usualMonths, text: '3 years' },
];

function choicesOf({ allMonths }: ProgressReport): ProgressView['choices'] {
  const shorter = lengths.filter(({ months }) => months < allMonths);
  return shorter.length === 0 ? [] : [...shorter, { months: allMonths, text: 'All' }];
}

function techniqueRates(
  one: TechniqueProgress,
  report: ProgressReport,
  standings: StandingsById,
  names: PanelNames,
): TechniqueRates {
  const { periods } = report;
  return {
    technique: one.technique,
    name: techniqueName(names, one.technique),
    standing: standingWords(standings.get(one.technique)),
    practised: practisedText(one, report),
    summary: ratesSentence(one, report),
    practice: pointsOf(one.practice, periods),
    run: pointsOf(one.run, periods),
    rows: periods.flatMap(({ label }, at) => {
      const [practice, run, minutes] = [one.practice.points[at], one.run.points[at], one.minutes[at]!];
      if (!practice && !run && minutes === 0) return [];
      return [
        [
          label,
          practice ? rateText(practice) : '',
          run ? rateText(run) : '',
          minutes > 0 ? formatHours(minutes / 60) : '',
        ],
      ];
    }),
  };
}

function mostTriesOf(points: readonly RatePoint[]): number {
  return points.reduce((most, { tries }) => Math.max(most, tries), 1);
}

function pointsOf({ points }: TechniqueProgress['practice'], periods: readonly Period[]): RatePoint[] {
  return points.flatMap((point, at) => {
    if (point === null) return [];
    const { from, to, label } = periods[at]!;
    const { rate, tries, range } = point;
    return [
      {
        day: (from + to + 1) / 2,
        rate,
        tries,
        range: range && { low: range.low, high: range.high },
        joined: at > 0 && points[at - 1] !== null,
        text: `${label}: ${rateText(point)}`,
      },
    ];
  });
}

function timesOf(report: ProgressReport): ProgressView['times'] {
  const { times } = report;
  const { runs, target, bestBefore } = times;
  const seconds = [...runs.map((run) => run.seconds), ...(target === null ? [] : [target])];
  if (bestBefore !== null && runs.length > 0) seconds.push(bestBefore);
  const fastest = seconds.reduce((low, one) => Math.min(low, one), Infinity);
  const slowest = seconds.reduce((high, one) => Math.max(high, one), -Infinity);
  const room = Math.max(1, (slowest - fastest) / 12);
  const [from, to] = seconds.length > 0 ? [Math.max(0, fastest - room), slowest + room] : [0, 1];
  const left = times.finishedInPeriods - runs.length;
  return {
    summary:
      bestText(times) +
      (left > 0
        ? ` Of ${times.finishedInPeriods} finished runs, ${runs.length} are drawn, the fastest of each ${report.unit} among them.`
        : ''),
    runs: runs.map((run) => ({
      day: run.day + 0.5,
      seconds: run.seconds,
      bestSoFar: run.bestSoFar,
      isBest: run.isBest,
      text: `${run.start.replace('T', ' ')}: ${clock(run.seconds)}${run.isBest ? ', the best so far' : ''}`,
    })),
    bestBefore,
    target: target === null ? null : { seconds: target, text: `Target ${targetClock(target)}` },
    fastest: from,
    slowest: to,
    timeTicks: timeTicks(from, to),
    columns: ['Run', 'Final time', 'Best so far'],
    rows: runs.map(({ start, seconds: own, bestSoFar }) => [
      start.replace('T', ' '),
      clock(own),
      clock(bestSoFar),
    ]),
  };
}

function hoursOf(report: ProgressReport): ProgressView['hours'] {
  const { practice, periods, unit } = report;
  const isWeekly = unit === 'week';
  const most = practice.byPeriod.reduce((top, { hoursAWeek }) => Math.max(top, hoursAWeek), 0);
  const bars = periods.map(({ from, to, label }, at) => {
    const { hoursAWeek, minutes } = practice.byPeriod[at]!;
    const all = formatHours(minutes / 60);
    const text = isWeekly ? all : `${formatHours(hoursAWeek)} a week, ${all} in all`;
    return { from, to: to + 1, hours: hoursAWeek, text: `${label}: ${text}` };
  });
  return {
    summary: hoursText(report),
    bars,
    hourTicks: numberTicks(0, most, (hours) => `${formatNumber(hours, Number.isInteger(hours) ? 0 : 1)} h`),
    columns: isWeekly ? [unitTitles[unit], 'Practice'] : [unitTitles[unit], 'A week', 'In all'],
    rows: periods.flatMap(({ label }, at) => {
      const { hoursAWeek, minutes } = practice.byPeriod[at]!;
      if (minutes === 0) return [];
      const all = formatHours(minutes / 60);
      return [isWeekly ? [label, all] : [label, formatHours(hoursAWeek), all]];
    }),
  };
}
