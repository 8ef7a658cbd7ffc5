import type { Verdict } from '../../model/review/reviewWeek.ts';
import { formatTwoFigures, formatPercent, formatPercentRange, formatList } from '../../text/format.ts';
import { heading, bulletList, prose, tableOf, type Page, type PagePart } from '../page.ts';
import type { ReviewReport, ReviewRow } from './reviewReport.ts';

interface Pair {
  readonly before: ReviewRow;
  readonly after: ReviewRow;
}

/** The difference between two reviews as a page; the techniques that were tried in the run come first. */
export function runChangePage(
  before: ReviewReport,
  after: ReviewReport,
  names: ReadonlyMap<string, string>,
  title: string,
): Page {
  const nameOf = (id: string): string => names.get(id) ?? id;
  const earlier = new Map(before.techniques.map((row) => [row.technique, row]));
  const pairs = after.techniques.flatMap((row): Pair[] => {
    const one = earlier.get(row.technique);
    return one ? [{ before: one, after: row }] : [];
  });
  const tried = pairs.filter((pair) => pair.after.run.tries !== pair.before.run.tries);
  const turned = (verdict: Verdict): Pair[] =>
    pairs.filter((pair) => pair.after.verdict === verdict && pair.before.verdict !== verdict);
  const section = (name: string, of: readonly Pair[]): PagePart[] =>
    of.length === 0
      ? []
      : [
          heading(name),
          bulletList(of.map((pair) => ({ name: nameOf(pair.after.technique), text: pair.after.reason }))),
        ];
  const others = pairs.filter(
    (pair) =>
      pair.after.verdict !== pair.before.verdict && !['slipped', 'competent'].includes(pair.after.verdict),
  );
  const parts: PagePart[] = [
    ...section('To bring back', turned('slipped')),
    ...section('Now worth trying', turned('competent')),
    ...section('Judged otherwise now', others),
    ...bestChange(before, after, nameOf),
  ];
  return {
    title,
    parts: [
      prose(
        tried.length === 0
          ? 'The run tried no technique that the review counts: no landing rate has changed.'
          : `The run tried ${formatList(tried.map(({ after: { technique } }) => nameOf(technique)))}.`,
      ),
      ...(parts.length === 0
        ? [prose('What is worth trying and what to practise stay as they were: one run moves little.')]
        : parts),
      ...(tried.length === 0 ? [] : [heading('Landing rates in a run'), ratesTable(tried, nameOf)]),
    ],
  };
}

function bestChange(before: ReviewReport, after: ReviewReport, nameOf: (id: string) => string): PagePart[] {
  if (!after.best || after.best.technique === before.best?.technique) return [];
  const earlier = before.best ? `, before the run ${nameOf(before.best.technique)}` : '';
  return [
    heading('The most to gain by practice'),
    prose(
      `${nameOf(after.best.technique)}, ${formatTwoFigures(after.best.gainPerHour)} s per hour of practice${earlier}.`,
    ),
  ];
}

function ratesTable(pairs: readonly Pair[], nameOf: (id: string) => string): PagePart {
  const rows = pairs.map(({ before, after }) => [
    nameOf(after.technique),
    `${after.run.landed - before.run.landed}/${after.run.tries - before.run.tries}`,
    `${formatPercent(before.run.mean)} (${formatPercentRange(before.run)})`,
    `${formatPercent(after.run.mean)} (${formatPercentRange(after.run)})`,
    after.breakEven === null ? '·' : formatPercent(after.breakEven),
  ]);
  return tableOf(['Technique', 'This run', 'Before', 'Now', 'Break-even'], rows);
}
