import { formatTime } from '../../text/time.ts';
import type { CompareReport, ComparedNumber, ComparedEntry } from './compareReport.ts';
import { formatCount, formatList, formatNumber, formatPercent } from '../../text/format.ts';
import { formatChance } from '../odds/oddsText.ts';
import { signedPoints } from '../review/reviewReason.ts';
import type { SideTimes } from './sideTimes.ts';
import type { UntriedChange } from './untriedChanges.ts';
import { facts, heading, prose, tableOf, type Page, type PagePart } from '../page.ts';

/** What a comparison is told with. */
export interface CompareWords {
  readonly basis: string;
  /** Names of techniques and of segments by id, from either side. */
  readonly names: ReadonlyMap<string, string>;
  readonly segments: ReadonlyMap<string, string>;
  /** The side whose logs are used for both, where only one side has logs. */
  readonly logsOf: 'a' | 'b' | undefined;
  readonly times: { readonly a: SideTimes; readonly b: SideTimes };
  /** Techniques that differ and that neither side tries. */
  readonly untried: readonly UntriedChange[];
}

/** Seconds from which two numbers count as different. */
const minDifference = 0.005;

/** A comparison for people: the numbers that differ, and how many are the same. */
export function comparePage(report: CompareReport, words: CompareWords & { readonly title: string }): Page {
  const { a, b, segments } = report;
  return {
    title: words.title,
    parts: [
      prose(words.basis),
      facts([
        ['A', a],
        ['B', b],
      ]),
      ...runPart(report, words),
      heading('By segment'),
      ...differing(segments, 'segment', 'Expected time', words.segments, (seconds) => formatTime(seconds, 1)),
      ...techniquePart(report, words),
    ],
  };
}

/** The same without what a panel shows in its own way: which routes are A and B, and the times by segment. */
export function compareRest(report: CompareReport, words: CompareWords): PagePart[] {
  return [prose(words.basis), ...runPart(report, words), ...techniquePart(report, words)];
}

function runPart(report: CompareReport, { logsOf }: CompareWords): PagePart[] {
  const logs =
    logsOf === undefined
      ? []
      : [prose(`Only ${logsOf.toUpperCase()} has logs of its own; they serve for both.`)];
  return [...logs, heading('The run'), runTable(report)];
}

/** What differs by technique, and what the times rest on. */
function techniquePart({ techniques }: CompareReport, words: CompareWords): PagePart[] {
  return [
    heading('By technique'),
    ...differing(techniques, 'technique', 'Takes off a run', words.names, (seconds) => `${fixed(seconds)} s`),
    ...untriedPart(words),
    heading('What the segment times rest on'),
    facts([
      ['A', timesText(words.times.a)],
      ['B', timesText(words.times.b)],
    ]),
    prose(
      'Times are those expected of a run that reaches the end, each technique tried where that makes the run faster ' +
        'at the rate of today; a time below zero in the last column means that B is faster. A dot: not tried, or not there.',
    ),
  ];
}

/** What changes, but not the run of today. */
function untriedPart({ untried, names }: CompareWords): PagePart[] {
  if (untried.length === 0) return [];
  const told = untried.map(({ id, onlyIn }) => {
    const name = names.get(id) ?? id;
    return onlyIn === undefined ? name : `${name} (only in ${onlyIn.toUpperCase()})`;
  });
  return [prose(`Changed, but tried by neither side: ${formatList(told)}.`)];
}

/** `9 of 17 from runs, 2 from the week file, the others from the route.` */
function timesText({ runs, week, all, moved }: SideTimes): string {
  const parts = [
    ...(runs > 0 ? [`${runs} of ${all} from runs`] : []),
    ...(week > 0 ? [`${week} from the week file`] : []),
    ...(runs + week < all ? [runs + week > 0 ? 'the others from the route' : 'all from the route'] : []),
  ];
  const by =
    moved === 0
      ? ''
      : ` ${formatCount(moved, 'time')} from runs ${moved === 1 ? 'is' : 'are'} moved by what this route changes of the one that was run.`;
  return `${parts.join(', ')}.${by}`;
}

function runTable(report: CompareReport): PagePart {
  const { finalTime, target, chance, finishChance, clockPerFinish } = report;
  const time = (seconds: number): string => formatTime(seconds, 1);
  const rows = [
    row('Final time', finalTime, time, seconds),
    row('Clock for each finish', clockPerFinish, (value) => formatTime(value, 0), seconds),
    row('Reaching the end', finishChance, formatPercent, signedPoints),
  ];
  if (target !== null)
    rows.push(
      row(`Beating ${formatTime(target, target % 1 === 0 ? 0 : 1)}`, chance, formatChance, signedPoints),
    );
  return tableOf(['', 'A', 'B', 'B − A'], rows);
}

function row(
  name: string,
  { a, b, delta }: ComparedNumber,
  of: (value: number) => string,
  between: (value: number) => string,
): string[] {
  return [
    name,
    ...[a, b].map((value) => (value === null ? '·' : of(value))),
    delta === null ? '·' : between(delta),
  ];
}

function differing(
  pairs: readonly ComparedEntry[],
  what: string,
  title: string,
  names: ReadonlyMap<string, string>,
  of: (value: number) => string,
): PagePart[] {
  const shown = pairs.filter(
    ({ a, b, delta }) => a === null || b === null || Math.abs(delta ?? 0) >= minDifference,
  );
  const same = pairs.length - shown.length;
  const rest =
    shown.length === 0
      ? `No ${what} ${what === 'technique' ? 'that is tried ' : ''}differs.`
      : same === 0
        ? undefined
        : `${formatCount(same, `other ${what}`)} ${same === 1 ? 'is' : 'are'} the same on both sides.`;
  const rows = shown.map((one) => row(names.get(one.id) ?? one.id, one, of, seconds));
  return [
    ...(shown.length === 0 ? [] : [tableOf([title, 'A', 'B', 'B − A'], rows)]),
    ...(rest === undefined ? [] : [prose(rest)]),
  ];
}

function seconds(value: number): string {
  const sign = value >= 0.05 ? '+' : '';
  return `${sign}${fixed(value)} s`;
}

function fixed(value: number): string {
  return formatNumber(value, 1);
}
