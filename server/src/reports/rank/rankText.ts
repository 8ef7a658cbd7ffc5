import type { RankRow } from '../../model/core/results.ts';
import { formatHours, formatMinutes, formatPercent, formatPercentRange } from '../../text/format.ts';
import { nameTechniques } from '../techniqueNames.ts';
import { memberMark, packageName, placesText, rankingParts, type RankingPart } from './packageRows.ts';
import { practiceSetSentence } from '../../queries/standingText.ts';
import { gainFormat, gainUnitOf, type GainFormat } from './gainFormat.ts';
import { type TextStyle } from '../../text/terminalText.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { runnerSentence } from '../runnerText.ts';
import { formatTable, type TableColumn } from '../../text/table.ts';
import { proseWidth, wrapText } from '../../text/wrap.ts';

export interface RankTextOptions {
  /** Game and category, and the file. */
  readonly title: string;
  /** Whole sentences on the day that the report is for and why, and on the logs that it is based on. */
  readonly basis: readonly string[];
  /** Names of techniques by id. */
  readonly names: ReadonlyMap<string, string>;
  /** How much one step of difficulty is on the scale of the runner's offset. */
  readonly offsetPerStep: number;
  /** For techniques at another cycle: a sentence on the gain of each. */
  readonly alternatives?: readonly (readonly [technique: string, sentence: string])[];
  /** A warning about long days, for the end of the text; undefined where it does not apply. */
  readonly caution: string | undefined;
}

/** How many rows get a sentence with their reason. */
const explainedRows = 5;

const columns: readonly TableColumn[] = [
  { title: '', align: 'right' },
  { title: 'Technique', align: 'left' },
  { title: 'Gain per hour', align: 'right' },
  { title: '80 % range', align: 'left' },
  { title: 'Practice', align: 'right' },
  { title: 'Blocks', align: 'right' },
  { title: 'Lands in a run', align: 'right' },
  { title: 'then', align: 'right' },
  { title: '80 % range', align: 'left' },
  { title: 'Competent', align: 'right' },
];

/** A ranking for people. */
export function rankText(report: RankReport, words: RankTextOptions, style: TextStyle): string {
  const { rows, skipped, runner } = report;
  const name = (id: string): string => sanitizeForTerminal(words.names.get(id) ?? id);
  const sentence = (text: string): string => nameTechniques(text, words.names);
  const lines = [
    style.bold(sanitizeForTerminal(words.title)),
    ...words.basis.flatMap((line) => prose(line)),
    ...prose(setSentence(report, name)),
    '',
  ];

  if (rows.length === 0) {
    lines.push('No technique is left to rank.');
  } else {
    const unit = gainUnitOf(report);
    const format = gainFormat(unit);
    const body = rankingParts(rows).flatMap((part) => partCells(part, name, format));
    lines.push(...formatTable(columns, body, style), '', ...prose(key(unit.definition, rows)), '');
    lines.push(style.bold('Why'));
    for (const [index, row] of rows.entries())
      if (index < explainedRows || ranksAboveHigherGain(rows, index))
        lines.push(...prose(`${index + 1}. ${name(row.technique)}: ${sentence(row.reason)}`, '   '));
  }
  const { alternatives = [] } = words;
  if (alternatives.length > 0) {
    lines.push('', style.bold('With a quicker repeat'));
    for (const [technique, text] of alternatives) lines.push(...prose(`${name(technique)}: ${text}`, '   '));
  }
  if (skipped.length > 0) lines.push('', style.bold('Not ranked'), ...skippedLines(skipped, name, sentence));
  lines.push('', ...prose(runnerSentence(runner, words.offsetPerStep)));
  if (words.caution !== undefined) lines.push(...prose(words.caution));
  return `${lines.join('\n')}\n`;
}

/** Who is in the practice set; the reasons of what is to be worked on again come first. */
function setSentence({ standings }: RankReport, name: (id: string) => string): string {
  const set = practiceSetSentence(
    standings.map(({ technique, standing }) => ({ technique, kind: standing })),
    name,
  );
  const why = standings
    .filter(({ standing }) => standing === 'again')
    .map(({ technique, reason }) => `${name(technique)}: ${reason}`);
  return [set, ...why].join(' ');
}

function prose(text: string, indent = ''): string[] {
  return wrapText(sanitizeForTerminal(text), proseWidth, indent);
}

/** Whether a row comes before one with a higher gain, or belongs to a package: that needs an explanation. */
function ranksAboveHigherGain(rows: readonly RankRow[], index: number): boolean {
  const below = rows[index + 1];
  const row = rows[index]!;
  return row.package !== null || (below !== undefined && below.gainPerHour > row.gainPerHour);
}

/** The line of one technique; or that of a package, with the lines of its members below it. */
function partCells(part: RankingPart, name: (id: string) => string, format: GainFormat): string[][] {
  const { package: whole, rows } = part;
  if (whole === null) return rows.map(({ row, place }) => cells(row, place, name(row.technique), format));
  const head = [placesText(part), packageName(whole, name), format.figures(whole.gainPerHour), '']; // prettier-ignore
  return [
    [...head, formatHours(whole.hours), String(whole.blocks), '', '', '', ''],
    ...rows.map(({ row, place }) => cells(row, place, memberMark + name(row.technique), format)),
  ];
}

function cells(row: RankRow, place: number, name: string, format: GainFormat): string[] {
  return [
    String(place),
    name,
    format.figures(row.gainPerHour),
    format.range(row),
    formatHours(row.hours),
    String(row.blocks),
    formatPercent(row.runNow.mean),
    formatPercent(row.runThen.mean),
    formatPercentRange(row.runThen),
    formatPercent(row.chanceCompetent),
  ];
}

function key(meaning: string, rows: readonly RankRow[]): string {
  const length = formatMinutes(rows[0]!.blockMinutes);
  const together = rows.some((row) => row.package !== null)
    ? ' Techniques practised together are beneath a row with their joint gain.'
    : '';
  return (
    `${meaning}, up to the best place to stop (Practice: blocks of ${length}, one a day). ` +
    `Competent: the chance that trying it in runs then pays.${together}`
  );
}

/** One line for all techniques that are left out for the same reason. */
function skippedLines(
  skipped: RankReport['skipped'],
  name: (id: string) => string,
  sentence: (text: string) => string,
): string[] {
  const byReason = new Map<string, string[]>();
  for (const { technique, reason } of skipped)
    byReason.set(reason, [...(byReason.get(reason) ?? []), name(technique)]);
  return [...byReason].flatMap(([reason, names]) => prose(`${names.join(', ')}: ${sentence(reason)}`, '   '));
}
