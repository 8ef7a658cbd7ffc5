import type { RateCurve } from '../../model/rank/rateCurve.ts';
import type { CurveView } from '../../protocol/panel/curveView.ts';
import { formatWeekday } from '../../text/calendar.ts';
import { breakEvenText } from '../breakEvenText.ts';
import {
  formatCount,
  formatList,
  formatMinutes,
  formatPercent,
  formatPercentRange,
} from '../../text/format.ts';
import { dayTicks, standingFact, techniqueInfo, type PanelNames } from './panelNames.ts';
import { othersSentence } from '../othersText.ts';
import type { StandingsById } from '../standingReports.ts';

/** The practice that a forecast of one technique assumes. */
export interface ForecastBasis {
  /** Planned blocks of the technique, and the day number of the last morning. */
  readonly blocks: number;
  readonly until: number;
  /** Whether the blocks come from the week's plan; otherwise one block a day is assumed. */
  readonly planned: boolean;
  readonly blockMinutes: number;
}

/** What the view of a curve rests on, besides the curve. */
export interface CurveContext {
  /** Day number of the morning that it is for. */
  readonly asOfDay: number;
  readonly basis: ForecastBasis;
  readonly names: PanelNames;
  /** Where the techniques stand, that of the curve included. */
  readonly standings: StandingsById;
  /** What a second lost to resets counts, where the break-even rests on it; otherwise null. */
  readonly resetWeight: number | null;
}

/** A technique's curve as the panel shows it. */
export function curveView(
  curve: RateCurve,
  technique: string,
  { asOfDay, basis, names, standings, resetWeight }: CurveContext,
): CurveView {
  const info = techniqueInfo(names, standings, technique);
  const points = curve.points.map((point) => ({
    ...point,
    date: formatWeekday(point.day),
    practiceText: `${formatPercent(point.practice.mean)} (${formatPercentRange(point.practice)})`,
    runText: `${formatPercent(point.run.mean)} (${formatPercentRange(point.run)})`,
  }));
  const now = points.findLast(({ ahead }) => !ahead);
  const then = points.at(-1);
  const first = curve.points[0]?.day ?? asOfDay;
  const results = curve.results.map(({ day, inRun, landed, tries }) => ({
    day,
    date: formatWeekday(day),
    kind: inRun ? ('run' as const) : ('practice' as const),
    landed,
    tries,
    rate: landed / tries,
    text: `${landed} of ${tries} landed ${inRun ? 'in runs' : 'in practice'}`,
  }));
  const forecastText = forecastWords(basis);
  const { breakEven } = curve;
  const others = names.othersOf(technique);
  return {
    ...info,
    summary: `${info.name} lands ${now?.runText ?? ''} in a run today and ${now?.practiceText ?? ''} in practice. By ${formatWeekday(basis.until)}, ${forecastText}: ${then?.runText ?? ''} in a run.`,
    facts: [
      standingFact(standings, technique),
      { label: 'In a run today', text: now?.runText ?? '' },
      { label: 'In practice today', text: now?.practiceText ?? '' },
      { label: `In a run by ${formatWeekday(basis.until)}`, text: then?.runText ?? '' },
      {
        label: 'Break-even in a run',
        text: breakEvenText(breakEven, resetWeight),
      },
      { label: 'Results logged', text: loggedWords(curve, others !== null) },
      ...(others === null ? [] : [{ label: 'Other runners', text: othersSentence(others) }]),
    ],
    points,
    results,
    today: asOfDay,
    breakEven,
    breakEvenText: breakEven === null ? null : `Break-even ${formatPercent(breakEven)}`,
    ticks: dayTicks(first, basis.until),
    forecastText,
  };
}

function forecastWords({ planned, blocks, blockMinutes }: ForecastBasis): string {
  if (!planned) return `with one block of ${formatMinutes(blockMinutes)} a day`;
  return blocks === 0 ? 'with no practice of it planned' : `under the plan (${formatCount(blocks, 'block')})`;
}

function loggedWords({ results }: RateCurve, othersTell: boolean): string {
  const days = (inRun: boolean): number => results.filter((result) => result.inRun === inRun).length;
  const parts = [
    ...(days(false) > 0 ? [formatCount(days(false), 'practice day')] : []),
    ...(days(true) > 0 ? [formatCount(days(true), 'run day')] : []),
  ];
  if (parts.length > 0) return `on ${formatList(parts)}`;
  return `none yet: the curve rests on the difficulty${othersTell ? ' and on other runners' : ''}`;
}
