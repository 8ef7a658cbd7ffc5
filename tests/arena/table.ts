/** The tables of results, in Markdown. */
import type { Outcome } from './simulate.ts';
import type { Result } from './task.ts';
import { kinds } from './truth/kinds.ts';

export interface Summary {
  readonly mean: number;
  /** Standard error of the mean. */
  readonly error: number;
}

export function summary(values: readonly number[]): Summary {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  const squares = values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  return { mean, error: Math.sqrt(squares / Math.max(1, values.length - 1) / values.length) };
}

/** The wait for a slipped technique's next practice. */
export interface Wait {
  /** Days; Infinity where most never come back to it, NaN without a slip. */
  readonly median: number;
  /** Share of the slips that were never practised again. */
  readonly never: number;
}

/** Over all slips; one that was never practised again counts as longer than every other. */
export function waitFor(outcomes: readonly Outcome[]): Wait {
  const days = outcomes.flatMap(({ slip }) => (slip === null ? [] : [slip.days ?? Infinity]));
  days.sort((a, b) => a - b);
  const half = days.length / 2;
  const median = days.length === 0 ? NaN : (days[Math.ceil(half) - 1]! + days[Math.floor(half)]!) / 2;
  return { median, never: days.filter((d) => d === Infinity).length / days.length };
}

function cell(values: readonly number[], factor: number, digits: number): string {
  if (values.length === 0) return '–';
  const { mean, error } = summary(values);
  return `${(factor * mean).toFixed(digits)} ± ${(factor * error).toFixed(digits)}`;
}

function waitCells(outcomes: readonly Outcome[]): string[] {
  const { median, never } = waitFor(outcomes);
  if (Number.isNaN(median)) return ['–', '–'];
  return [median === Infinity ? 'never' : String(median), `${(100 * never).toFixed(0)} %`];
}

const head = ['area', 'final', 'exits a week'];
const slipHead = ['days until practised again', 'never'];

/** One table: a row a policy. */
function tableOf(title: string, results: readonly Result[], titles: readonly string[]): string {
  const of = (policy: string): Outcome[] => results.flatMap(({ outcomes }) => outcomes[policy] ?? []);
  const slips = titles.some((policy) => of(policy).some(({ slip }) => slip !== null));
  const columns = [title, ...head, ...(slips ? slipHead : [])];
  const lines = titles.map((policy) => {
    const outcomes = of(policy);
    const exits = outcomes.flatMap((outcome) => outcome.exits ?? []);
    return [
      policy,
      cell(
        outcomes.map(({ area }) => area),
        100,
        1,
      ),
      cell(
        outcomes.map(({ final }) => final),
        100,
        1,
      ),
      cell(exits, 1, 2),
      ...(slips ? waitCells(outcomes) : []),
    ];
  });
  return [columns, ['---', ...columns.slice(1).map(() => '---:')], ...lines]
    .map((line) => `| ${line.join(' | ')} |`)
    .join('\n');
}

/** A table of all runners, and one for each kind of runner. */
export function tables(results: readonly Result[], titles: readonly string[]): string {
  const present = Object.keys(kinds).filter((kind) => results.some((r) => r.kind === kind));
  const each = present.map((kind) =>
    tableOf(
      kinds[kind]!.title,
      results.filter((r) => r.kind === kind),
      titles,
    ),
  );
  return present.length > 1 ? [tableOf('all runners', results, titles), ...each].join('\n\n') : each.join('');
}
