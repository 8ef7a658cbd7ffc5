import type { AttemptCount, StandingKind } from '../../model/core/types.ts';
import { nameLookup } from '../../queries/names.ts';
import { standingLabels, standingTitle } from '../../queries/standingText.ts';
import { formatDate } from '../../text/calendar.ts';
import { formatNumber, formatPercent, formatPercentRange, formatList } from '../../text/format.ts';
import { heading, bulletList, prose, tableOf, type ListItem, type Page, type PagePart } from '../page.ts';
import type { ReviewReport, ReviewRow } from './reviewReport.ts';
import { countText, signedPoints } from './reviewReason.ts';
import { runRateUnderLoss, runnerSentence } from '../runnerText.ts';
import { blockCourseParts } from './blockCourseText.ts';

export interface ReviewPageOptions {
  readonly title: string;
  readonly basis: string;
  readonly names: ReadonlyMap<string, string>;
  readonly difficulties: ReadonlyMap<string, number>;
  /** How much one step of difficulty is on the scale of the runner's offset. */
  readonly offsetPerStep: number;
  /** A warning about long days, for the end of the text; undefined where it does not apply. */
  readonly caution: string | undefined;
  /** Whether the place around the page says which days are looked back on; left out: it does not. */
  readonly periodTold?: boolean;
}

/** `from 2026-11-23 to 2026-11-30`: the days whose entries count, the last seven and the day of the answer so far. */
export function reviewPeriod({ week, asOf }: Pick<ReviewReport, 'week' | 'asOf'>): string {
  return `from ${week.from} to ${asOf}`;
}

/** The order in which the standings are shown: what is to be done first. */
const shownOrder: readonly StandingKind[] = [
  'again',
  'learning',
  'in-run',
  'waiting',
  'aside',
  'left-out',
  'not-begun',
];

/** A review for people: first where each technique stands, with what the week adds to that, last all counts. */
export function reviewPage(report: ReviewReport, words: ReviewPageOptions): Page {
  const { techniques } = report;
  const nameOf = nameLookup(words.names);
  const logged = techniques.filter((row) => !nothingLogged(row));
  const section = (title: string, rows: readonly ListItem[]): PagePart[] =>
    rows.length === 0 ? [] : [heading(title), bulletList(rows)];

  return {
    title: words.title,
    parts: [
      prose(words.basis),
      ...(words.periodTold === true
        ? []
        : [prose(`It looks back on what was logged ${reviewPeriod(report)}.`)]),
      ...shownOrder.flatMap((kind) =>
        section(
          standingTitle(kind),
          standingItems(
            report,
            logged.filter(({ standing }) => standing.kind === kind),
            nameOf,
          ),
        ),
      ),
      ...untouched(techniques.filter(nothingLogged), nameOf),
      ...section('Practice against runs', pressureItems(report, nameOf)),
      ...section('Difficulties that seem off', difficultyItems(report, words)),
      ...blockCourseParts(report.blockCourse),
      heading('Counts'),
      prose(
        'Landed and tried in that time; landing rates as of today, from all that was logged; change over that time in points.',
      ),
      countsTable(report, nameOf),
      heading('How this is told'),
      prose(slipSentence(report)),
      prose(runnerSentence(report.runner, words.offsetPerStep)),
      ...(words.caution === undefined ? [] : [prose(words.caution)]),
    ],
  };
}

/** Techniques of one standing; those that stand there since this week come first, with the date. */
function standingItems(
  { week }: ReviewReport,
  rows: readonly ReviewRow[],
  nameOf: (id: string) => string,
): ListItem[] {
  const since = ({ standing }: ReviewRow): string | null =>
    standing.since === null ? null : formatDate(standing.since);
  const isNew = (row: ReviewRow): boolean => (since(row) ?? '') >= week.from;
  const item = (row: ReviewRow): ListItem => ({
    name: nameOf(row.technique),
    text: isNew(row) ? `${row.reason} New since ${since(row)}.` : row.reason,
  });
  return [...rows.filter(isNew), ...rows.filter((row) => !isNew(row))].map(item);
}

function nothingLogged({ standing }: ReviewRow): boolean {
  return standing.cause.why === 'nothing logged';
}

function slipSentence({ tested, falseAlarms }: ReviewReport): string {
  if (tested === 0)
    return 'No technique was tried in runs both this week and in the four weeks before, so there is nothing to test for a slip.';
  return (
    `A slip is found in the week's runs of a technique: they are compared with its own runs of the four weeks before and ` +
    `with what its practice promises, and the kinder comparison counts. ${tested} ${tested === 1 ? 'technique was' : 'techniques were'} tested, with ` +
    `Holm's correction: where nothing slipped, at most ${formatPercent(falseAlarms)} of reviews name a slip. A small slip ` +
    'in few tries stays unseen. What slipped stays to work on again until it is competent.'
  );
}

/** Techniques whose loss under pressure in runs differs from the runner's usual loss. */
function pressureItems({ techniques, runner }: ReviewReport, nameOf: (id: string) => string): ListItem[] {
  return techniques.flatMap(({ technique, losesMore, practice, run }) => {
    if (losesMore === null || (losesMore.low <= 0 && losesMore.high >= 0)) return [];
    const usual = rateAfter(practice.mean, runner.pressure.mean);
    const side = losesMore.mean > 0 ? 'less' : 'more';
    const text =
      `${formatPercent(practice.mean)} in practice, ${formatPercent(run.mean)} in runs (${countText(run)}): ${side} than the ` +
      `${formatPercent(usual)} that a run usually leaves of it.`;
    return [{ name: nameOf(technique), text }];
  });
}

function rateAfter(practice: number, loss: number): number {
  return runRateUnderLoss(loss - Math.log(practice / (1 - practice)));
}

function difficultyItems({ techniques }: ReviewReport, words: ReviewPageOptions): ListItem[] {
  return techniques.flatMap(({ technique, harder, suggestedDifficulty }) => {
    if (harder === null || suggestedDifficulty === null) return [];
    const written = words.difficulties.get(technique) ?? 0;
    const steps = formatNumber(Math.abs(harder.mean), 1);
    const side = harder.mean > 0 ? 'harder' : 'easier';
    const [near, far] = [Math.abs(harder.low), Math.abs(harder.high)].sort((a, b) => a - b);
    const text =
      `is ${steps} steps ${side} for you than difficulty ${written} says ` +
      `(${formatNumber(near!, 1)} to ${formatNumber(far!, 1)}); difficulty ${suggestedDifficulty} would fit.`;
    return [{ name: words.names.get(technique) ?? technique, text }];
  });
}

function countsTable({ techniques }: ReviewReport, nameOf: (id: string) => string): PagePart {
  const rows = techniques
    .filter(({ practice, run, practised }) => practice.tries + run.tries > 0 || practised !== null)
    .map(({ technique, week, practice, run, trend, standing }) => [
      nameOf(technique),
      tally(week.practice),
      rate(practice),
      tally(week.run),
      formatPercentRange(run),
      { low: run.low, mark: run.mean, high: run.high },
      Math.abs(trend) < 0.005 ? '·' : signedPoints(trend).split(' ')[0]!,
      standingLabels[standing.kind],
    ]);
  const table = tableOf(
    ['Technique', 'Practice', 'Lands', 'Runs', 'Lands in a run', '', 'Change', 'Standing'],
    rows,
    'lrrrllrl',
  );
  // The standing is told above the table, too, and the picture repeats the range.
  const least = new Map([
    [5, 3],
    [1, 2],
    [7, 1],
  ]);
  return {
    ...table,
    columns: table.columns.map((column, i) => (least.has(i) ? { ...column, least: least.get(i)! } : column)),
  };
}

function tally(count: AttemptCount): string {
  return count.tries === 0 ? '·' : `${count.landed}/${count.tries}`;
}

function rate({ mean, tries }: ReviewRow['practice']): string {
  return tries === 0 ? '·' : formatPercent(mean);
}

function untouched(rows: readonly ReviewRow[], nameOf: (id: string) => string): PagePart[] {
  if (rows.length === 0) return [];
  return [prose(`Nothing logged: ${formatList(rows.map(({ technique }) => nameOf(technique)))}.`)];
}
