import { median, quantile, type Sample } from './samples.ts';

/** One line of the table: the same thing measured in Routewright and in another program. */
export interface Row {
  readonly what: string;
  /** Empty for a count. */
  readonly unit: 'ms' | 'MB' | 'kB' | '%' | '';
  readonly own: Sample;
  /** The other program, and its figures. */
  readonly other: { readonly name: string; readonly sample: Sample };
}

/** One line of the table. */
export function row(what: string, unit: Row['unit'], own: Sample, name: string, sample: Sample): Row {
  return { what, unit, own, other: { name, sample } };
}

/** A number with three significant digits, without an exponent. */
function digits(value: number): string {
  if (value >= 1000) return Number(value.toPrecision(3)).toLocaleString('en');
  return value.toFixed(value >= 100 ? 0 : value >= 10 ? 1 : 2);
}

/** Median, and the 5 and 95 % points where there is more than one figure: `12.3 ms [11.0–15.8]`. */
export function figure(sample: Sample, unit: string): string {
  if (unit === 'ms' && median(sample) >= 10_000)
    return figure(
      sample.map((ms) => ms / 1000),
      's',
    );
  const middle = unit === '' ? String(median(sample)) : `${digits(median(sample))} ${unit}`;
  if (sample.length < 2) return middle;
  return `${middle} [${digits(quantile(sample, 0.05))}–${digits(quantile(sample, 0.95))}]`;
}

/**
 * The rows as a Markdown table. The ratio is the other program's median divided by Routewright's; where that is 0,
 * there is none.
 */
export function tableOf(rows: readonly Row[]): string {
  const lines = [
    '| Measured | Routewright | Compared with | Its figure | Ratio |',
    '| --- | --- | --- | --- | --- |',
    ...rows.map(({ what, unit, own, other }) => {
      const times = median(other.sample) / median(own);
      const ratio = Number.isFinite(times) ? `${digits(times)} ×` : '–';
      return `| ${[what, figure(own, unit), other.name, figure(other.sample, unit), ratio].join(' | ')} |`;
    }),
  ];
  return lines.join('\n');
}
