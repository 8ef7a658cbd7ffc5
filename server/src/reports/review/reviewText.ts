import type { Verdict } from '../../model/review/reviewWeek.ts';
import type { AttemptCount } from '../../model/core/types.ts';
import { formatNumber, formatPercent, formatPercentRange, formatList } from '../../text/format.ts';
import { heading, bulletList, prose, tableOf, type ListItem, type Page, type PagePart } from '../page.ts';
import type { ReviewReport, ReviewRow } from './reviewReport.ts';
import { countText, signedPoints } from './reviewReason.ts';
import { runRateUnderLoss, runnerSentence } from '../runnerText.ts';

export interface ReviewPageOptions {
  readonly title: string;
  readonly basis: string;
  readonly names: ReadonlyMap<string, string>;
  readonly difficulties: ReadonlyMap<string, number>;
  /** How much one step of difficulty is on the scale of the runner's offset. */
  readonly offsetPerStep: number;
  /** A warning about long days, for the end of the text; undefined where it does not apply. */
  readonly caution: string | undefined;
}

/** A review for people: first what the week changed, last all counts. */
export function reviewPage(report: ReviewReport, words: ReviewPageOptions): Page {
  const { techniques } = report;
  const nameOf = (id: string): string => words.names.get(id) ?? id;
  const of = (...verdicts: Verdict[]) => techniques.filter(({ verdict }) => verdicts.includes(verdict));
  const competent = of('competent');
  const fresh = competent.filter(
    ({ competentBefore, state }) => competentBefore < report.confidence || state !== 'in-run',
  );
  const items = (rows: readonly ReviewRow[]): ListItem[] =>
    rows.map(({ technique, reason }) => ({ name: nameOf(technique), text: reason }));
  const section = (title: string, rows: readonly ListItem[]): PagePart[] =>
    rows.length === 0 ? [] : [heading(title), bulletList(rows)];
  const practised = (row: ReviewRow): boolean => row.practised !== null;

  return {
    title: words.title,
    parts: [
      prose(words.basis),
      prose(
        `The week looked back on is ${report.week.from} to ${report.week.to}, with what was logged since.`,
      ),
      ...section('Slipped in runs', items(of('slipped'))),
      ...section('Competent since this week, or not in the run so far', items(fresh)),
      ...section('Practised past its use', items(of('overPractised'))),
      ...section('On few days', items(of('tooFewDays'))),
      ...section('Still being learned', items(of('steady').filter(practised))),
      ...section('Practice against runs', pressureItems(report, nameOf)),
      ...section('Difficulties that seem off', difficultyItems(report, words)),
      heading('Counts'),
      prose(
        'Landed and tried in the week; landing rates as of today, from all that was logged; change over the week in points.',
      ),
      countsTable(report, nameOf),
      ...untried(of('untried'), nameOf),
      heading('How this is told'),
      prose(slipSentence(report)),
      prose(runnerSentence(report.runner, words.offsetPerStep)),
      ...(words.caution === undefined ? [] : [prose(words.caution)]),
    ],
  };
}

function slipSentence({ tested, falseAlarms }: ReviewReport): string {
  if (tested === 0)
    return 'No technique was tried in runs both this week and in the four weeks before, so there is nothing to test for a slip.';
  return (
    `A slip: the week's runs of a technique against its own runs of the four weeks before and against what practice ` +
    `leads to expect, whichever is kinder. ${tested} ${tested === 1 ? 'technique was' : 'techniques were'} tested, with ` +
    `Holm's correction: where nothing slipped, at most ${formatPercent(falseAlarms)} of reviews name any. A small slip ` +
    'in few tries stays unseen.'
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
      `comes ${steps} steps ${side} than difficulty ${written} leads to expect of you ` +
      `(${formatNumber(near!, 1)} to ${formatNumber(far!, 1)}); difficulty ${suggestedDifficulty} would fit.`;
    return [{ name: words.names.get(technique) ?? technique, text }];
  });
}

const verdicts: Readonly<Record<Verdict, string>> = {
  competent: 'competent',
  slipped: 'slipped',
  overPractised: 'past its use',
  tooFewDays: 'few days',
  steady: 'steady',
  untried: 'untried',
};

function countsTable({ techniques }: ReviewReport, nameOf: (id: string) => string): PagePart {
  const rows = techniques
    .filter(({ verdict }) => verdict !== 'untried')
    .map(({ technique, week, practice, run, trend, verdict }) => [
      nameOf(technique),
      tally(week.practice),
      rate(practice),
      tally(week.run),
      formatPercentRange(run),
      Math.abs(trend) < 0.005 ? '·' : signedPoints(trend).split(' ')[0]!,
      verdicts[verdict],
    ]);
  return tableOf(
    ['Technique', 'Practice', 'Lands', 'Runs', 'Lands in a run', 'Change', 'Verdict'],
    rows,
    'lrrrlrl',
  );
}

function tally(count: AttemptCount): string {
  return count.tries === 0 ? '·' : `${count.landed}/${count.tries}`;
}

function rate({ mean, tries }: ReviewRow['practice']): string {
  return tries === 0 ? '·' : formatPercent(mean);
}

function untried(rows: readonly ReviewRow[], nameOf: (id: string) => string): PagePart[] {
  if (rows.length === 0) return [];
  return [prose(`Nothing logged: ${formatList(rows.map(({ technique }) => nameOf(technique)))}.`)];
}
