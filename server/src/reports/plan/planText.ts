import {
  formatTwoFigures,
  formatMinutes,
  formatNumber,
  formatRange,
  rangeDecimals,
} from '../../text/format.ts';
import {
  bulletList,
  heading,
  prose,
  type BarsPart,
  type Page,
  type PageCell,
  type PageColumn,
  type PagePart,
} from '../page.ts';
import { unusedText } from './planNotes.ts';
import { dayLabel, gapSentence, type PlanReport, type PlanReportDay } from './planReport.ts';
import { reportSummary } from './planSummary.ts';

export interface PlanPageOptions {
  /** Game and category, and the file. */
  readonly title: string;
  /** Whole sentences on the day that the report is for, and on the logs that it is based on. */
  readonly basis: readonly string[];
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
}

const columns: readonly PageColumn[] = [
  { title: 'Day', align: 'left' },
  { title: 'Block', align: 'left' },
  { title: 'Practice', align: 'right' },
  { title: 'then rest', align: 'right' },
];

/** A plan for people: the coming week as a picture and block by block, the expected gain, and the notes. */
export function planPage(report: PlanReport, words: PlanPageOptions): Page {
  const name = (id: string): string => words.names.get(id) ?? id;
  const week = report.days.slice(0, 7);
  return {
    title: words.title,
    parts: [
      ...words.basis.map(prose),
      prose(reportSummary(report, name)),
      weekPicture(week),
      { kind: 'table', columns, rows: week.flatMap((day) => rows(day, report.standings.length, name)) },
      ...(report.days.length > 7 ? [prose('The weeks after it are in --json and --ics.')] : []),
      heading('Expected gain against no practice'),
      forecastPart(report),
      prose(gapLine(report)),
      ...(report.notes.length > 0
        ? [heading('Notes'), bulletList(report.notes.map((text) => ({ text })))]
        : []),
    ],
  };
}

/** The minutes of each day, so that light and heavy days are seen at a glance. */
function weekPicture(week: readonly PlanReportDay[]): BarsPart {
  return {
    kind: 'bars',
    rows: week.map(({ date, blocks, runMinutes }) => {
      const practice = blocks.reduce((sum, { minutes }) => sum + minutes, 0);
      const said = [
        ...(practice > 0 ? [formatMinutes(practice)] : []),
        ...(runMinutes > 0 ? [`${formatMinutes(runMinutes)} of runs`] : []),
      ];
      return {
        name: dayLabel(date),
        pieces: [
          ...blocks.flatMap(({ minutes, rest }) => [
            { amount: minutes, fill: 'full' as const },
            ...(rest > 0 ? [{ amount: rest, fill: 'empty' as const }] : []),
          ]),
          ...(runMinutes > 0 ? [{ amount: runMinutes, fill: 'light' as const }] : []),
        ],
        text: said.length === 0 ? 'free' : said.join(', '),
      };
    }),
    key: [
      ['full', 'practice'],
      ['light', 'runs'],
    ],
  };
}

function rows(
  { date, blocks, runMinutes, unused }: PlanReportDay,
  techniques: number,
  name: (id: string) => string,
): string[][] {
  const day = dayLabel(date);
  const body = blocks.map(({ technique, minutes, rest }) => [
    '',
    name(technique),
    `${minutes} min`,
    rest > 0 ? `${rest} min` : '',
  ]);
  if (runMinutes > 0) body.push(['', 'Runs', `${formatNumber(runMinutes, 0)} min`, '']);
  const left = unusedText(unused, techniques);
  if (left !== undefined) body.push(['', left, '', '']);
  if (body.length === 0) return [[day, 'free', '', '']];
  body[0]![0] = day;
  return body;
}

const forecastColumns: readonly PageColumn[] = [
  { title: '', align: 'left' },
  { title: 'Gain', align: 'right' },
  { title: '80 % range', align: 'left' },
  { title: '', align: 'left', least: 1 },
];

function forecastPart({ forecast }: PlanReport): PagePart {
  const ends = forecast.filter((_, d) => (d + 1) % 7 === 0);
  if (ends.length === 0 || ends.every(({ gain }) => gain === 0)) return prose('none');
  const decimals = rangeDecimals(ends);
  const body = ends.map(({ date, gain, low, high }): PageCell[] => [
    `morning of ${date}`,
    `${formatTwoFigures(gain)} s`,
    formatRange({ low, high }, 's', decimals),
    { low, mark: gain, high },
  ]);
  return { kind: 'table', columns: forecastColumns, rows: body };
}

function gapLine({ gap }: PlanReport): string {
  return `On average over these mornings: ${gapSentence(gap)}.`;
}
