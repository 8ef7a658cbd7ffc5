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

/** What one of several runners gained, and what the reference gained for the same runner. */
interface Pair {
  readonly own: number;
  readonly best: number;
}

/**
 * What all runners together gained, as a share of what the reference gained for them. A runner with little to gain counts little,
 * where a mean of each runner's own share would be ruled by the few for whom there was next to nothing to gain.
 *
 * S, from memory: the ratio estimator and its linearised standard error (Cochran, Sampling Techniques, chapter 6).
 */
export function shareOf(pairs: readonly Pair[]): Summary {
  const total = pairs.reduce((sum, { best }) => sum + best, 0);
  const mean = pairs.reduce((sum, { own }) => sum + own, 0) / total;
  const residuals = pairs.map(({ own, best }) => own - mean * best);
  return { mean, error: (summary(residuals).error * pairs.length) / total };
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

function cell({ mean, error }: Summary, factor: number, digits: number): string {
  return `${(factor * mean).toFixed(digits)} ± ${(factor * error).toFixed(digits)}`;
}

/** The tool's title: every other policy is compared with it runner by runner. */
const compared = 'this tool';

/** How much more of the reference's area a policy gained than the tool, over the runners who followed both; with its sign. */
function againstTheTool(results: readonly Result[], policy: string): string {
  const differences = results.flatMap(({ best, outcomes }): Pair[] => {
    const [own, tool] = [outcomes[policy], outcomes[compared]];
    return own === undefined || tool === undefined ? [] : [{ own: own.area - tool.area, best: best.area }];
  });
  if (policy === compared || differences.length === 0) return '–';
  const text = cell(shareOf(differences), 100, 1);
  return text.startsWith('-') ? text.replace('-', '−') : `+${text}`;
}

function waitCells(outcomes: readonly Outcome[]): string[] {
  const { median, never } = waitFor(outcomes);
  if (Number.isNaN(median)) return ['–', '–'];
  return [median === Infinity ? 'never' : String(median), `${(100 * never).toFixed(0)} %`];
}

const head = ['area', 'against the tool', 'final', 'exits a week'];
const slipHead = ['days until practised again', 'never'];

/** The runners who followed a policy. Nobody may have gained more than the reference. */
export function followersOf(results: readonly Result[], policy: string): readonly Follower[] {
  return results.flatMap(({ best, outcomes }): Follower[] => {
    const own = outcomes[policy];
    if (own === undefined) return [];
    if (own.area > best.area) throw new Error(`${policy} gained more than the reference`);
    return [{ own, best }];
  });
}

interface Follower {
  readonly own: Outcome;
  readonly best: Result['best'];
}

/** One table: a row a policy. */
function tableOf(title: string, results: readonly Result[], titles: readonly string[]): string {
  const followers = titles.map((policy) => followersOf(results, policy));
  const slips = followers.flat().some(({ own: { slip } }) => slip !== null);
  const columns = [title, ...head, ...(slips ? slipHead : [])];
  const lines = titles.map((policy, i) => {
    const all = followers[i]!;
    if (all.length === 0) return [policy, ...columns.slice(1).map(() => '–')];
    const share = (of: 'area' | 'final'): string =>
      cell(shareOf(all.map(({ own, best }) => ({ own: own[of], best: best[of] }))), 100, 1);
    const exits = all.flatMap(({ own }) => own.exits ?? []);
    return [
      policy,
      share('area'),
      againstTheTool(results, policy),
      share('final'),
      exits.length === 0 ? '–' : cell(summary(exits), 1, 2),
      ...(slips ? waitCells(all.map(({ own }) => own)) : []),
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
