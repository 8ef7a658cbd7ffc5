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

/** The tool's title: every other policy is compared with it runner by runner. */
const compared = 'this tool';

/** How much more of the reference's area a policy gained than the tool, over the runners who followed both; with its sign. */
function againstTheTool(results: readonly Result[], policy: string): string {
  const differences = results.flatMap((result) => {
    const [own] = shares(result, policy);
    const [tool] = shares(result, compared);
    return own === undefined || tool === undefined ? [] : [own.area - tool.area];
  });
  if (policy === compared || differences.length === 0) return '–';
  const text = cell(differences, 100, 1);
  return text.startsWith('-') ? text.replace('-', '−') : `+${text}`;
}

function waitCells(outcomes: readonly Outcome[]): string[] {
  const { median, never } = waitFor(outcomes);
  if (Number.isNaN(median)) return ['–', '–'];
  return [median === Infinity ? 'never' : String(median), `${(100 * never).toFixed(0)} %`];
}

const head = ['area', 'against the tool', 'final', 'exits a week'];
const slipHead = ['days until practised again', 'never'];

/** A runner whom even the reference gains less than this many seconds has nothing to compare. */
const leastGain = 0.5;

/** What came of a policy, its gains as shares of what the reference gained; none where there is nothing to compare. */
export function shares({ best, outcomes }: Result, policy: string): Outcome[] {
  const outcome = outcomes[policy];
  if (outcome === undefined || best.area < leastGain) return [];
  if (outcome.area > best.area) throw new Error(`${policy} gained more than the reference`);
  return [{ ...outcome, area: outcome.area / best.area, final: outcome.final / best.final }];
}

/** One table: a row a policy. */
function tableOf(title: string, results: readonly Result[], titles: readonly string[]): string {
  const of = (policy: string): Outcome[] => results.flatMap((result) => shares(result, policy));
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
      againstTheTool(results, policy),
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

/** The table of all runners. */
export function tableOfAll(results: readonly Result[], titles: readonly string[]): string {
  return tableOf('all runners', results, titles);
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
  return present.length > 1 ? [tableOfAll(results, titles), ...each].join('\n\n') : each.join('');
}
