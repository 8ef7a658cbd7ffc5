import { nameLookup } from '../../queries/names.ts';
import { formatTime } from '../../text/time.ts';
import {
  formatCount,
  decimalsFor,
  formatTwoFigures,
  formatMinutes,
  formatNumber,
  formatPercent,
  formatList,
} from '../../text/format.ts';
import type { OddsReport, SegmentSource } from './oddsReport.ts';
import type { TimeBar } from '../../model/run/runTimes.ts';
import { practiseOrRunText, splitColumns, splitRows } from './practiseOrRunReport.ts';
import { facts, heading, prose, tableOf, type Page, type PagePart } from '../page.ts';

export interface OddsPageOptions {
  /** Game and category, and the file. */
  readonly title: string;
  /** Whole sentences on the day that the report is for, and on the logs that it is based on. */
  readonly basis: string;
  /** Names of techniques and of segments by id. */
  readonly names: ReadonlyMap<string, string>;
  readonly segments: ReadonlyMap<string, string>;
  readonly targetFrom: 'asked' | 'week' | 'route' | undefined;
  /** The distribution of the final times, to be drawn; left out where another drawing shows it. */
  readonly times?: readonly TimeBar[];
  /** Techniques that count as in the run because the person asked for it. */
  readonly with: readonly string[];
}

/** The odds of a run for people. */
export function oddsPage(report: OddsReport, words: OddsPageOptions): Page {
  return {
    title: words.title,
    parts: [
      prose(words.basis),
      heading('What to expect'),
      facts(expectations(report, words)),
      ...timesPicture(report, words.times ?? []),
      ...splitPart(report),
      ...bestPart(report),
      ...linePart(report, words),
      heading('What this rests on'),
      ...oddsBasis(report, words).map(prose),
    ],
  };
}

/** What the odds rest on besides the logs: the techniques tried, and where the segment times are from. */
export function oddsBasis(
  report: OddsReport,
  words: Pick<OddsPageOptions, 'names' | 'segments' | 'with'>,
): string[] {
  return [
    triedSentence(report, words),
    timesSentence(report.segmentTimes, words),
    'Landing rates come from the logs; the ranges include how uncertain they are.',
    ...formSentence(report),
  ];
}

/** The form of the day is told where it makes up at least so much of the distance from the fast runs to the slow ones. */
const tellingShare = 0.1;

/** What the form of the day does, where that counts. */
function formSentence({ form, quantiles: { p10, p90 } }: OddsReport): string[] {
  if (form === null || form.seconds < tellingShare * (p90 - p10)) return [];
  const from =
    form.days > 0
      ? `estimated from ${formatCount(form.days, 'day')} of logs`
      : 'assumed; the logs do not tell yet';
  return [
    `On some days all techniques land a little better together, on others a little worse: a day's runs are about ${formatTwoFigures(form.seconds)} s faster or slower on average (${from}).`,
  ];
}

/** Writes times with as many digits as their spread justifies. */
export function timeFormatter(report: OddsReport): (seconds: number) => string {
  const { p10, p90 } = report.quantiles;
  const digits = Math.min(2, decimalsFor({ low: p10, high: p90 }));
  return (seconds) => formatTime(seconds, p10 === p90 ? 1 : digits);
}

function expectations(report: OddsReport, { targetFrom }: OddsPageOptions): [string, string][] {
  const { finalTime, quantiles, finishChance, clockPerFinish, target, chance, perHour } = report;
  const clock = timeFormatter(report);
  const rows: [string, string][] = [];
  if (clockPerFinish === null) return [['Final time', 'No run is expected to reach the end.']];
  rows.push([
    'Final time',
    `${clock(finalTime)} on average; ${clock(quantiles.p10)} to ${clock(quantiles.p90)} in 8 of 10 finished runs, ` +
      `half of them under ${clock(quantiles.p50)}`,
  ]);
  rows.push([
    'Reaching the end',
    `${formatPercent(finishChance)} of runs, if none is reset; one finished run takes ` +
      `${formatTime(clockPerFinish, 0)} of clock time, failed runs and restarts included`,
  ]);
  if (target === null || chance === null || perHour === null || targetFrom === undefined) {
    rows.push([
      'Target',
      'None is given: write target: into the week file or the route, or use --target 41:30.',
    ]);
    return rows;
  }
  const from = { asked: 'as asked', week: 'from the week file', route: 'from the route' }[targetFrom];
  rows.push([
    'Target',
    `${formatTime(target, target % 1 === 0 ? 0 : 1)}, ${from}: ${beatChanceText(chance)}`,
  ]);
  rows.push(['Time to beat it', waitingTimeText(perHour)]);
  return rows;
}

function beatChanceText(chance: number): string {
  if (chance < 1e-6) return 'practically no run beats it';
  if (chance >= 0.01) return `${formatPercent(chance)} of runs beat it`;
  return `about 1 run in ${Number((1 / chance).toPrecision(2))} beats it`;
}

/** A chance as a percentage; a small one keeps a significant figure, since 0.1 % and 0.01 % differ. */
export function formatChance(chance: number): string {
  if (chance >= 0.01 || chance < 1e-6) return chance < 1e-6 ? 'practically none' : formatPercent(chance);
  return `about 1 in ${Number((1 / chance).toPrecision(2))}`;
}

function waitingTimeText({ line, never }: NonNullable<OddsReport['perHour']>): string {
  const hours = (rate: number): string => {
    const value = 1 / rate;
    if (value < 1) return formatMinutes(60 * value);
    return value < 1000 ? `${formatTwoFigures(value)} h` : 'more than 1000 h';
  };
  if (!(never > 0) && !(line > 0)) return 'It is out of reach with what is tried now.';
  const without = never > 0 ? `${hours(never)} of runs on average without any reset` : '';
  if (!(line > never * 1.005)) return `${without}; resetting early gains nothing here`;
  const along = `${hours(line)} of runs on average with the reset line below`;
  return without === '' ? along : `${along}, ${without}`;
}

/** Rows that the picture of the final times has at most. */
const mostTimeRows = 14;

/** How the final times are spread: one row for each part of them, as wide as its share of the finished runs. */
function timesPicture({ target, clockPerFinish }: OddsReport, times: readonly TimeBar[]): PagePart[] {
  if (clockPerFinish === null || times.length < 2) return [];
  const bars = joinedBars(times, Math.ceil(times.length / mostTimeRows));
  const digits = bars[0]!.to - bars[0]!.from < 1 ? 1 : 0;
  const rows = bars.map(({ from, to, share }) => {
    const holdsTarget = target !== null && from <= target && target < to;
    return {
      name: `${formatTime(from, digits)} to ${formatTime(to, digits)}`,
      pieces: [{ amount: share, fill: 'full' as const }],
      text: formatPercent(share) + (holdsTarget ? ', target' : ''),
    };
  });
  return [heading('Final times of finished runs'), { kind: 'bars', rows }];
}

/** So many neighbours in one; all of them have the same width, and begin at multiples of it. */
function joinedBars(times: readonly TimeBar[], each: number): TimeBar[] {
  const width = (times[0]!.to - times[0]!.from) * each;
  const joined = new Map<number, number>();
  for (const { from, to, share } of times) {
    const place = Math.floor((from + to) / 2 / width);
    joined.set(place, (joined.get(place) ?? 0) + share);
  }
  return [...joined].map(([place, share]) => ({ from: place * width, to: (place + 1) * width, share }));
}

function splitPart({ practiseOrRun }: OddsReport): PagePart[] {
  if (practiseOrRun === null) return [];
  const rows = splitRows(practiseOrRun);
  return [
    heading('Practise or run?'),
    prose(practiseOrRunText(practiseOrRun)),
    ...(rows.length > 0 ? [tableOf([...splitColumns], rows, 'rrr')] : []),
  ];
}

function bestPart(report: OddsReport): PagePart[] {
  if (report.clockPerFinish === null) return [];
  const clock = timeFormatter(report);
  return [
    heading('Best of several finished runs'),
    tableOf(
      ['Finished runs', 'Expected best'],
      report.bestAfter.map(({ runs, mean }) => [String(runs), clock(mean)]),
      'rr',
    ),
  ];
}

/** Whether resetting pays past some time. */
export function hasResetTimes({ resetLine }: Pick<OddsReport, 'resetLine'>): boolean {
  return resetLine.some(({ time }) => time !== null);
}

/** What the times of the reset line mean, or why there are none. */
export function resetLineText(report: Pick<OddsReport, 'resetLine' | 'perHour'>): string {
  if (hasResetTimes(report))
    return 'Reset where the clock at the end of a segment is past its time: starting again then beats the target more often in an hour.';
  return report.perHour?.never ? 'Going on pays at any time.' : 'Resetting makes no difference at any time.';
}

function linePart(report: OddsReport, { segments }: OddsPageOptions): PagePart[] {
  const { resetLine, target } = report;
  if (target === null) return [];
  const explained = [heading('Reset line'), prose(resetLineText(report))];
  if (!hasResetTimes(report)) return explained;
  const total = report.quantiles.p90;
  const digits = total < 300 ? 1 : 0;
  return [
    ...explained,
    tableOf(
      ['After', 'Reset past'],
      resetLine.map(({ segment, time }, index) => [
        segments.get(segment) ?? segment,
        time === null ? (index === resetLine.length - 1 ? 'the end' : 'never') : formatTime(time, digits),
      ]),
    ),
  ];
}

function triedSentence(
  { uses }: OddsReport,
  { names, with: requested }: Pick<OddsPageOptions, 'names' | 'with'>,
): string {
  const nameOf = nameLookup(names);
  const tried = [...new Set(uses.map((use) => use.split('@')[0]!))];
  const idle = requested.filter((id) => !tried.includes(id)).map(nameOf);
  const left =
    idle.length > 0
      ? ` ${formatList(idle)} ${idle.length === 1 ? 'was' : 'were'} asked for, but trying would make the run slower at the rate of today.`
      : '';
  if (tried.length === 0) return `No technique is tried.${left}`;
  return `Tried: ${formatList(tried.map(nameOf))}.${left}`;
}

function timesSentence(
  sources: readonly SegmentSource[],
  { segments }: Pick<OddsPageOptions, 'segments'>,
): string {
  const from = (kind: SegmentSource['from']) => sources.filter((source) => source.from === kind);
  const runs = from('runs');
  const parts: string[] = [];
  if (runs.length > 0) {
    const counts = runs.map((source) => source.runs);
    const [least, most] = [Math.min(...counts), Math.max(...counts)];
    parts.push(
      `${formatNumber(runs.length, 0)} of ${sources.length} from your own runs (${least === most ? formatCount(least, 'run') : `${least} to ${formatCount(most, 'run')}`} each)`,
    );
  }
  const week = from('week');
  if (week.length > 0)
    parts.push(
      `${formatList(week.map(({ segment }) => segments.get(segment) ?? segment))} from the week file`,
    );
  if (from('route').length > 0)
    parts.push(parts.length > 0 ? 'the others from the route' : 'all from the route');
  return `Segment times: ${parts.join('; ')}.`;
}
