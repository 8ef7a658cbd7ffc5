import { nameLookup } from '../../queries/names.ts';
import { standingLabels } from '../../queries/standingText.ts';
import { formatTwoFigures, formatPercent, formatPercentRange, formatList } from '../../text/format.ts';
import { heading, bulletList, prose, tableOf, type Page, type PagePart } from '../page.ts';
import type { ReviewReport, ReviewRow } from './reviewReport.ts';

const ratesMeaning =
  'How often each lands in a run, estimated before and with this one; in brackets the range that holds the true rate in 8 of 10 cases. ' +
  'Break-even: from this rate on, trying it saves time.';

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
  const nameOf = nameLookup(names);
  const earlier = new Map(before.techniques.map((row) => [row.technique, row]));
  const pairs = after.techniques.flatMap((row): Pair[] => {
    const one = earlier.get(row.technique);
    return one ? [{ before: one, after: row }] : [];
  });
  const tried = pairs.filter((pair) => pair.after.run.tries !== pair.before.run.tries);
  const parts = [...standingChanges(before, after, nameOf), ...bestChange(before, after, nameOf)];
  return {
    title,
    parts: [
      prose(
        tried.length === 0
          ? 'The run tried no technique that the review counts: no landing rate has changed.'
          : `The run tried ${formatList(tried.map(({ after: { technique } }) => nameOf(technique)))}.`,
      ),
      ...(parts.length === 0
        ? [prose('Every technique stands where it stood before the run: one run moves little.')]
        : parts),
      ...(tried.length === 0
        ? []
        : [heading('Landing rates in a run'), prose(ratesMeaning), ratesTable(tried, nameOf)]),
    ],
  };
}

/** Each technique that stands elsewhere after the run, with its reason; what is to be worked on again comes first. */
function standingChanges(
  before: ReviewReport,
  after: ReviewReport,
  nameOf: (id: string) => string,
): PagePart[] {
  const earlier = new Map(before.standings.map(({ technique, standing }) => [technique, standing]));
  const changed = after.standings.flatMap(({ technique, standing, reason }) => {
    const from = earlier.get(technique);
    if (from === undefined || from === standing) return [];
    const text = `${standingLabels[from]} → ${standingLabels[standing]}. ${reason}`;
    return [{ standing, item: { name: nameOf(technique), text } }];
  });
  if (changed.length === 0) return [];
  const again = changed.filter(({ standing }) => standing === 'again');
  const others = changed.filter(({ standing }) => standing !== 'again');
  return [heading('What the run changed'), bulletList([...again, ...others].map(({ item }) => item))];
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
  return tableOf(['Technique', 'This run', 'Before (80 % range)', 'Now (80 % range)', 'Break-even'], rows);
}
