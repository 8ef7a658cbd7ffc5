import { formatTwoFigures, formatNumber, formatRange } from '../../text/format.ts';
import { type TextStyle } from '../../text/terminalText.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { unusedText } from './planNotes.ts';
import { dayLabel, gapSentence, practiceSetText, type PlanReport, type PlanReportDay } from './planReport.ts';
import { formatTable, type TableColumn } from '../../text/table.ts';
import { proseWidth, wrapText } from '../../text/wrap.ts';

export interface PlanTextOptions {
  /** Game and category, and the file. */
  readonly title: string;
  /** Whole sentences on the day that the report is for, and on the logs that it is based on. */
  readonly basis: readonly string[];
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
}

const columns: readonly TableColumn[] = [
  { title: 'Day', align: 'left' },
  { title: 'Block', align: 'left' },
  { title: 'Practice', align: 'right' },
  { title: 'then rest', align: 'right' },
];

/** A plan for people: the coming week block by block, the expected gain, and the notes. */
export function planText(report: PlanReport, words: PlanTextOptions, style: TextStyle): string {
  const name = (id: string): string => sanitizeForTerminal(words.names.get(id) ?? id);
  const lines = [
    style.bold(sanitizeForTerminal(words.title)),
    ...words.basis.flatMap((line) => prose(line)),
    '',
  ];
  lines.push(...prose(`Practice set: ${practiceSetText(report, words.names)}.`), '');
  const week = report.days.slice(0, 7);
  lines.push(
    ...formatTable(
      columns,
      week.flatMap((day) => rows(day, name)),
      style,
    ),
    '',
  );
  const later = report.days.length > 7 ? 'The weeks after it are in --json and --ics.' : '';
  if (later !== '') lines.push(...prose(later), '');
  lines.push(style.bold('Expected gain against no practice'));
  lines.push(...forecastLines(report), '');
  lines.push(...prose(gapLine(report)));
  if (report.notes.length > 0) {
    lines.push('', style.bold('Notes'));
    for (const note of report.notes) lines.push(...prose(note, '   '));
  }
  return `${lines.join('\n')}\n`;
}

function prose(text: string, indent = ''): string[] {
  return wrapText(sanitizeForTerminal(text), proseWidth, indent);
}

function rows({ date, blocks, runMinutes, unused }: PlanReportDay, name: (id: string) => string): string[][] {
  const day = dayLabel(date);
  const body = blocks.map(({ technique, minutes, rest }) => [
    '',
    name(technique),
    `${minutes} min`,
    rest > 0 ? `${rest} min` : '',
  ]);
  if (runMinutes > 0) body.push(['', 'Runs', `${formatNumber(runMinutes, 0)} min`, '']);
  const left = unusedText(unused);
  if (left !== undefined) body.push(['', left, '', '']);
  if (body.length === 0) return [[day, 'free', '', '']];
  body[0]![0] = day;
  return body;
}

function forecastLines({ forecast }: PlanReport): string[] {
  const ends = forecast.filter((_, d) => (d + 1) % 7 === 0);
  if (ends.length === 0 || ends.every(({ gain }) => gain === 0)) return ['none'];
  const body = ends.map(({ date, gain, low, high }) => [
    `morning of ${date}`,
    `${formatTwoFigures(gain)} s`,
    formatRange({ low, high }, 's'),
  ]);
  const widths: readonly TableColumn[] = [
    { title: '', align: 'left' },
    { title: 'Gain', align: 'right' },
    { title: '80 % range', align: 'left' },
  ];
  return formatTable(widths, body, { bold: (text) => text, dim: (text) => text });
}

function gapLine({ gap }: PlanReport): string {
  return `On average over these mornings: ${gapSentence(gap)}.`;
}
