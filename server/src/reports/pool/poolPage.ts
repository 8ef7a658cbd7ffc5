import { formatDate } from '../../text/calendar.ts';
import { formatCount, formatList, formatNumber } from '../../text/format.ts';
import { bulletList, heading, type ListItem, type Page, type PagePart, prose, tableOf } from '../page.ts';
import type { PoolSum } from './poolReport.ts';
import type { NotCounted } from './poolWords.ts';

/** The answer of `routewright pool`. */
export interface PoolAnswer extends PoolSum {
  /** The route's file, for people. */
  readonly route: string;
  /** Day number up to which logs count. */
  readonly day: number;
  /** How many runners are in the pool. */
  readonly runners: number;
  readonly notCounted: readonly NotCounted[];
}

/** What only people are told. */
export interface PoolPageOptions {
  readonly title: string;
  readonly nameOf: (id: string) => string;
  /** How the pool is written, where nobody asked for that. */
  readonly next: string | undefined;
}

/** So many lines of a list are shown; the JSON has all. */
const mostShown = 12;

/** A pool for people. */
export function poolPage(answer: PoolAnswer, { title, nameOf, next }: PoolPageOptions): Page {
  const { rows, leftOut, notCounted } = answer;
  return {
    title,
    parts: [
      prose(sumSentence(answer)),
      ...(rows.length === 0
        ? []
        : [
            tableOf(
              ['Technique', 'runners', 'rated', 'comes like'],
              rows.map(({ technique, runners, rated, comesLike }) => [
                nameOf(technique),
                String(runners),
                String(rated),
                formatNumber(comesLike, 1),
              ]),
            ),
            prose('The last column is the difficulty that the practice of these runners shows.'),
          ]),
      ...fewPart(leftOut, nameOf),
      ...listPart(
        'Left out',
        leftOut
          .filter(({ why }) => why !== 'few')
          .map(({ technique, reason }) => ({ name: nameOf(technique), text: reason })),
      ),
      ...listPart(
        'Not counted',
        notCounted.map(({ source, reason }) => ({ name: source, text: reason })),
      ),
      ...(next === undefined ? [] : [prose(next)]),
    ],
  };
}

function sumSentence({ runners, rows, day }: PoolAnswer): string {
  return rows.length === 0
    ? `There is nothing to tell yet, up to ${formatDate(day)}.`
    : `${formatCount(runners, 'runner')} and ${formatCount(rows.length, 'technique')}, from practice up to ${formatDate(day)}.`;
}

function fewPart(leftOut: PoolSum['leftOut'], nameOf: (id: string) => string): PagePart[] {
  const few = leftOut.filter(({ why }) => why === 'few');
  if (few.length === 0) return [];
  const names = few.slice(0, mostShown).map(({ technique, runners }) => `${nameOf(technique)} (${runners})`);
  const rest = few.length - names.length;
  const all = formatList([...names, ...(rest > 0 ? [`${rest} more`] : [])]);
  return [prose(`Practised by too few runners to be told of: ${all}.`)];
}

function listPart(title: string, items: readonly ListItem[]): PagePart[] {
  if (items.length === 0) return [];
  const shown = items.length > mostShown ? items.slice(0, mostShown - 1) : items;
  const rest = items.length - shown.length;
  return [
    heading(title),
    bulletList([...shown, ...(rest > 0 ? [{ text: `And ${rest} more: --json has all.` }] : [])]),
  ];
}
