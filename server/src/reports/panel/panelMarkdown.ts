import { escapeMarkdownToPaste } from '../../safeText/markdown.ts';
import type { AfterView } from '../../protocol/panel/afterView.ts';
import type { CompareView } from '../../protocol/panel/compareView.ts';
import type { DifferencesView } from '../../protocol/panel/differencesView.ts';
import type { CurveView } from '../../protocol/panel/curveView.ts';
import type { PanelData } from '../../protocol/panel/panelData.ts';
import { memberMark } from '../rank/packageRows.ts';
import type { RankedRow, RankingView, SkippedRow } from '../../protocol/panel/rankingView.ts';
import type { OddsView } from '../../protocol/panel/oddsView.ts';
import type { ProgressView } from '../../protocol/panel/progressView.ts';
import type { PanelPart } from '../../protocol/panel/pageParts.ts';
import type { ReviewView } from '../../protocol/panel/reviewView.ts';
import type { Fact } from '../../protocol/panel/viewParts.ts';
import type { TonightView } from '../../protocol/panel/tonightView.ts';
import type { WeekView } from '../../protocol/panel/weekView.ts';

/** A view of the panel as Markdown: the numbers and words that it shows, as tables. */
export function panelMarkdown(data: PanelData): string {
  if (data.broken !== null) return `${escapeMarkdownToPaste(data.broken.text)}\n`;
  const head = [`# ${escapeMarkdownToPaste(data.route)}, as of ${data.asOf}`];
  if (data.message !== null) return `${[...head, escapeMarkdownToPaste(data.message)].join('\n\n')}\n`;
  const parts = [
    ...(data.week ? weekParts(data.week) : []),
    ...(data.ranking ? rankingParts(data.ranking) : []),
    ...(data.curve ? curveParts(data.curve) : []),
    ...(data.odds ? oddsParts(data.odds) : []),
    ...(data.review ? reviewParts(data.review) : []),
    ...(data.progress ? progressParts(data.progress) : []),
    ...(data.after ? afterParts(data.after) : []),
    ...(data.compare ? compareParts(data.compare) : []),
  ];
  return `${[...head, ...parts].join('\n\n')}\n`;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.map(escapeMarkdownToPaste).join(' | ')} |`;
  return [line(head), `|${head.map(() => '---|').join('')}`, ...rows.map(line)].join('\n');
}

function factTable(facts: readonly Fact[]): string {
  return table(
    ['', ''],
    facts.map(({ label, text }) => [label, text]),
  );
}

/** The row of a package, above its first member. */
function packageCells({ package: whole }: RankedRow): string[][] {
  return whole === null
    ? []
    : [[whole.places, whole.name, '', whole.gainText, whole.hoursText, 'Practised together.']];
}

function rankingParts({ rows, skipped, setMark, targetText, preferenceText }: RankingView): string[] {
  const standingOf = ({ standingText, inSet }: RankedRow | SkippedRow): string =>
    inSet ? `${standingText}, ${setMark}` : standingText;
  return [
    '## What to practise next',
    ...(targetText === null ? [] : [escapeMarkdownToPaste(targetText)]),
    table(
      ['', 'Technique', 'Standing', 'Gain', 'Practice', 'Why'],
      rows.flatMap((row) => [
        ...packageCells(row),
        [
          String(row.place),
          row.inPackage ? memberMark + row.name : row.name,
          standingOf(row),
          `${row.gainText}, ${row.expectedText}`,
          row.hoursText,
          row.reason,
        ],
      ]),
    ),
    ...(preferenceText === null ? [] : [escapeMarkdownToPaste(preferenceText)]),
    ...(skipped.length > 0
      ? [
          '### Not ranked',
          table(
            ['Technique', 'Standing', 'Why'],
            skipped.map((row) => [row.name, standingOf(row), row.reason]),
          ),
        ]
      : []),
  ];
}

function curveParts({ name, facts, results, points }: CurveView): string[] {
  return [
    `## ${escapeMarkdownToPaste(name)}`,
    factTable(facts),
    '### Logged',
    table(
      ['Day', 'Result'],
      results.map(({ date, text }) => [date, text]),
    ),
    '### Landing rate',
    table(
      ['Morning', 'In practice', 'In a run', 'Kind'],
      points.map(({ date, practiceText, runText, ahead }) => [
        date,
        practiceText,
        runText,
        ahead ? 'forecast' : 'estimate',
      ]),
    ),
  ];
}

function oddsParts({
  summary,
  facts,
  chances,
  practiseOrRun,
  bests,
  resetLine,
  resetText,
  basis,
}: OddsView): string[] {
  return [
    '## The odds of a run',
    escapeMarkdownToPaste(summary),
    factTable(facts),
    ...(chances.length === 0
      ? []
      : [
          '### Chances',
          table(
            ['Faster than', 'Of all runs'],
            chances.map(({ time, chance, isTarget }) => [isTarget ? `${time}, the target` : time, chance]),
          ),
        ]),
    ...(practiseOrRun === null
      ? []
      : [
          '### Practise or run?',
          escapeMarkdownToPaste(practiseOrRun.text),
          ...(practiseOrRun.rows.length > 0 ? [table(practiseOrRun.columns, practiseOrRun.rows)] : []),
        ]),
    ...(bests.length === 0
      ? []
      : [
          '### Best of several finished runs',
          table(
            ['Finished runs', 'Expected best'],
            bests.map(({ runs, best }) => [runs, best]),
          ),
        ]),
    '### Reset line',
    escapeMarkdownToPaste(resetText),
    ...(resetLine.length > 0
      ? [
          table(
            ['At the end of', 'Reset', 'Earlier or later than an average run'],
            resetLine.map(({ name, text, leeway }) => [name, text, leeway]),
          ),
        ]
      : []),
    '### What this rests on',
    escapeMarkdownToPaste(basis.join(' ')),
  ];
}

function reviewParts({ summary, rows, parts }: ReviewView): string[] {
  return [
    '## The week looked back on',
    escapeMarkdownToPaste(summary),
    ...(rows.length === 0
      ? []
      : [
          table(
            ['Technique', 'Landed in runs', 'Expected', 'Finding'],
            rows.map(({ name, landedText, expectedText, verdict }) => [
              name,
              landedText,
              expectedText,
              verdict,
            ]),
          ),
        ]),
    ...parts.map(partMarkdown),
  ];
}

function progressParts({ summary, times, hours, techniques, columns, quietText }: ProgressView): string[] {
  return [
    '## Over the months',
    escapeMarkdownToPaste(summary),
    '### Best finished time',
    escapeMarkdownToPaste(times.summary),
    ...(times.rows.length > 0 ? [table(times.columns, times.rows)] : []),
    '### Hours of practice',
    escapeMarkdownToPaste(hours.summary),
    ...(hours.rows.length > 0 ? [table(hours.columns, hours.rows)] : []),
    ...techniques.flatMap(({ name, standing, practised, rows }) => [
      `### ${escapeMarkdownToPaste(name)}`,
      ...[standing, practised].filter((words) => words !== '').map(escapeMarkdownToPaste),
      ...(rows.length > 0 ? [table(columns, rows)] : []),
    ]),
    ...(quietText === '' ? [] : [escapeMarkdownToPaste(quietText)]),
  ];
}

function afterParts({ run, runs, summary, differences, parts }: AfterView): string[] {
  const label = runs.find((one) => one.run === run)?.label ?? '';
  return [
    `## After the run of ${escapeMarkdownToPaste(label)}`,
    escapeMarkdownToPaste(summary),
    ...differencesTable(differences),
    ...parts.map(partMarkdown),
  ];
}

function compareParts({ a, b, summary, differences, parts }: CompareView): string[] {
  return [
    '## Two routes compared',
    factTable([
      { label: 'A', text: a },
      { label: 'B', text: b },
    ]),
    escapeMarkdownToPaste(summary),
    ...differencesTable(differences),
    ...parts.map(partMarkdown),
  ];
}

/** Two times of each segment; nothing where there are none. */
function differencesTable({ rows, titles }: DifferencesView): string[] {
  if (rows.length === 0) return [];
  return [
    table(
      ['', titles.first, titles.second, 'Difference'],
      rows.map(({ name, first, second, words }) => [name, first, second, words]),
    ),
  ];
}

/** A part of a report, under the heading of its view. */
function partMarkdown(part: PanelPart): string {
  switch (part.kind) {
    case 'heading':
      return `### ${escapeMarkdownToPaste(part.text)}`;
    case 'prose':
      return escapeMarkdownToPaste(part.text);
    case 'list':
      return part.items
        .map(({ name, text }) => `- ${escapeMarkdownToPaste(name === null ? text : `${name}: ${text}`)}`)
        .join('\n');
    case 'facts':
      return factTable(part.rows);
    case 'table':
      return table(
        part.columns.map(({ title }) => title),
        part.rows,
      );
  }
}

function weekParts({ tonight, summary, days, facts, notes }: WeekView): string[] {
  return [
    ...tonightParts(tonight),
    '## The week',
    escapeMarkdownToPaste(summary),
    table(
      ['Day', 'Practice and runs', 'In all'],
      days.map(({ label, text, totalText }) => [label, text, totalText]),
    ),
    factTable(facts),
    ...(notes.length > 0 ? [notes.map((note) => `- ${escapeMarkdownToPaste(note)}`).join('\n')] : []),
  ];
}

function tonightParts({ title, summary, steps, lines, swaps }: TonightView): string[] {
  return [
    `## ${escapeMarkdownToPaste(title)}`,
    escapeMarkdownToPaste(summary),
    ...(steps.length > 0
      ? [
          steps
            .map(({ name, text }, i) => `${i + 1}. ${escapeMarkdownToPaste(`${name}: ${text}`)}`)
            .join('\n'),
        ]
      : []),
    factTable(lines),
    ...swaps.map(({ title: swap, text }) => escapeMarkdownToPaste(`${swap}? ${text}`)),
  ];
}
