import type { RankRow } from '../../model/core/results.ts';
import { formatHours, formatMinutes, formatPercent, formatPercentRange } from '../../text/format.ts';
import { nameTechniques } from '../techniqueNames.ts';
import { memberMark, packageName, placesText, rankingParts, type RankingPart } from './packageRows.ts';
import { practiceSetSentence } from '../../queries/standingText.ts';
import { gainFormat, gainUnitOf, type GainFormat } from './gainFormat.ts';
import {
  bulletList,
  heading,
  prose,
  type ListItem,
  type Page,
  type PageCell,
  type PageColumn,
  type PagePart,
} from '../page.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { runnerSentence } from '../runnerText.ts';

export interface RankPageOptions {
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

/** What matters least for the choice of the next technique is left out first; the picture repeats the range. */
const columns: readonly PageColumn[] = [
  { title: '', align: 'right' },
  { title: 'Technique', align: 'left' },
  { title: 'Gain per hour', align: 'right' },
  { title: '80 % range', align: 'left', called: '80 % range of the gain', least: 4 },
  { title: '', align: 'left', least: 1 },
  { title: 'Practice', align: 'right', least: 2 },
  { title: 'Blocks', align: 'right', least: 7 },
  { title: 'Lands in a run', align: 'right', least: 3 },
  { title: 'then', align: 'right', least: 3 },
  { title: '80 % range', align: 'left', called: '80 % range of then', least: 6 },
  { title: 'Competent', align: 'right', least: 5 },
];

/** A ranking for people. */
export function rankPage(report: RankReport, words: RankPageOptions): Page {
  const { rows, skipped, runner } = report;
  const name = (id: string): string => words.names.get(id) ?? id;
  const sentence = (text: string): string => nameTechniques(text, words.names);
  const { alternatives = [] } = words;
  return {
    title: words.title,
    parts: [
      ...words.basis.map(prose),
      prose(setSentence(report, name)),
      ...(rows.length === 0 ? [prose('No technique is left to rank.')] : rankedParts(report, name, sentence)),
      ...section(
        'With a quicker repeat',
        alternatives.map(([technique, text]) => ({ name: name(technique), text })),
      ),
      ...section('Not ranked', skippedItems(skipped, name, sentence)),
      prose(runnerSentence(runner, words.offsetPerStep)),
      ...(words.caution === undefined ? [] : [prose(words.caution)]),
    ],
  };
}

/** The table, what its columns mean, and the reasons of the first rows. */
function rankedParts(
  report: RankReport,
  name: (id: string) => string,
  sentence: (text: string) => string,
): PagePart[] {
  const { rows } = report;
  const unit = gainUnitOf(report);
  const format = gainFormat(unit, rows);
  const body = rankingParts(rows).flatMap((part) => partCells(part, name, format));
  const reasons = [...rows.entries()].flatMap(([index, row]) =>
    index < explainedRows || ranksAboveHigherGain(rows, index)
      ? [{ text: `${index + 1}. ${name(row.technique)}: ${sentence(row.reason)}` }]
      : [],
  );
  return [
    { kind: 'table', columns, rows: body },
    prose(key(unit.definition, rows)),
    ...section('Why', reasons),
  ];
}

function section(title: string, items: readonly ListItem[]): PagePart[] {
  return items.length === 0 ? [] : [heading(title), bulletList(items)];
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

/** Whether a row comes before one with a higher gain, or belongs to a package: that needs an explanation. */
function ranksAboveHigherGain(rows: readonly RankRow[], index: number): boolean {
  const below = rows[index + 1];
  const row = rows[index]!;
  return row.package !== null || (below !== undefined && below.gainPerHour > row.gainPerHour);
}

/** The line of one technique; or that of a package, with the lines of its members below it. */
function partCells(part: RankingPart, name: (id: string) => string, format: GainFormat): PageCell[][] {
  const { package: whole, rows } = part;
  if (whole === null) return rows.map(({ row, place }) => cells(row, place, name(row.technique), format));
  const head = [placesText(part), packageName(whole, name), format.figures(whole.gainPerHour), '', ''];
  return [
    [...head, formatHours(whole.hours), String(whole.blocks), '', '', '', ''],
    ...rows.map(({ row, place }) => cells(row, place, memberMark + name(row.technique), format)),
  ];
}

function cells(row: RankRow, place: number, name: string, format: GainFormat): PageCell[] {
  return [
    String(place),
    name,
    format.figures(row.gainPerHour),
    format.range(row),
    { low: row.low, mark: row.gainPerHour, high: row.high },
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
    `Competent: the chance that trying it in runs then pays. A bar is the 80 % range on a scale from 0; its mark is the gain.${together}`
  );
}

/** One item for all techniques that are left out for the same reason. */
function skippedItems(
  skipped: RankReport['skipped'],
  name: (id: string) => string,
  sentence: (text: string) => string,
): ListItem[] {
  const byReason = new Map<string, string[]>();
  for (const { technique, reason } of skipped)
    byReason.set(reason, [...(byReason.get(reason) ?? []), name(technique)]);
  return [...byReason].map(([reason, names]) => ({ name: names.join(', '), text: sentence(reason) }));
}
