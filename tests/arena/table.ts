/** The table of results, in Markdown. */
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

function cell(values: readonly number[]): string {
  if (values.length === 0) return '–';
  const { mean, error } = summary(values);
  return `${(100 * mean).toFixed(1)} ± ${(100 * error).toFixed(1)}`;
}

/** Mean share of the reference, in percent with its standard error: a row a policy, two columns a kind. */
export function table(results: readonly Result[], titles: readonly string[]): string {
  const present = Object.keys(kinds).filter((kind) => results.some((r) => r.kind === kind));
  const of = (kind: string, title: string, what: 'area' | 'final'): number[] =>
    results.flatMap((r) => {
      const share = r.kind === kind ? r.shares[title] : undefined;
      return share === undefined ? [] : [share[what]];
    });
  const head = ['% of a clairvoyant', ...present.flatMap((k) => [`${kinds[k]!.title}: area`, 'final'])];
  const lines = [
    `| ${head.join(' | ')} |`,
    `| --- |${' ---: |'.repeat(head.length - 1)}`,
    ...titles.map((title) => {
      const cells = present.flatMap((kind) => [
        cell(of(kind, title, 'area')),
        cell(of(kind, title, 'final')),
      ]);
      return `| ${[title, ...cells].join(' | ')} |`;
    }),
  ];
  return lines.join('\n');
}
