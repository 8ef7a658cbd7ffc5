/**
 * Numbers for people, the same quantity with the same digits everywhere: rates and chances as whole per cent, gains with
 * two figures, minutes whole, hours and seconds with one decimal, ranges with one decimal or, from ten on, whole.
 * The editor, the browser and the command line all write their numbers with these.
 *
 * Written by hand: `Intl.NumberFormat` takes its digits from the language data of each platform, and the same input has
 * to give the same text everywhere. So only `toFixed` and a few rules of our own are used.
 */

/** The 10 % and the 90 % point of an estimate. */
interface Range {
  readonly low: number;
  readonly high: number;
}

/**
 * How many decimals two numbers need so that their difference is seen, at most 3: the last one counts a fifth to a
 * fiftieth of it.
 */
export function decimalsFor({ low, high }: Range): number {
  const width = Math.abs(high - low);
  if (!Number.isFinite(width) || width === 0) return 1;
  return Math.min(3, Math.max(0, -Math.floor(Math.log10(width / 5))));
}

/**
 * A number with two significant figures, at most 2 decimals: enough to order a list.
 *
 * @example
 * formatTwoFigures(3.44) // '3.4'
 */
export function formatTwoFigures(value: number): string {
  const size = Math.abs(value);
  const decimals = size > 0 && Number.isFinite(size) ? 1 - Math.floor(Math.log10(size)) : 1;
  return formatNumber(value, Math.min(2, Math.max(0, decimals)));
}

/** A number with this many decimals and a true minus sign. Zero never has a minus sign. */
export function formatNumber(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/**
 * The decimals of ranges that are read together, both ends with the same: one, and none where all reach ten, since an
 * estimate is not known to a tenth of so much.
 *
 * @example
 * rangeDecimals([{ low: 8, high: 22 }]) // 0
 * rangeDecimals([{ low: 8, high: 22 }, { low: 0, high: 4.8 }]) // 1
 */
export function rangeDecimals(ranges: readonly Range[]): number {
  const isLarge = ({ low, high }: Range): boolean => Math.max(Math.abs(low), Math.abs(high)) >= wholeFrom;
  return ranges.length > 0 && ranges.every(isLarge) ? 0 : 1;
}

/** What is written as 10 or more with one decimal. */
const wholeFrom = 9.95;

/**
 * `2.9 to 5.6 s`: the 10 % and the 90 % point.
 *
 * @param decimals those of the list that the range stands in, see {@link rangeDecimals}; left out: the range stands alone
 * @example
 * formatRange({ low: 2.94, high: 5.6 }, 's') // '2.9 to 5.6 s'
 */
export function formatRange(range: Range, unit: string, decimals = rangeDecimals([range])): string {
  return `${formatNumber(range.low, decimals)} to ${formatNumber(range.high, decimals)} ${unit}`;
}

/**
 * `12 %`; below half a per cent `<1 %`, above 99.5 per cent `>99 %`.
 *
 * @example
 * formatPercent(0.414) // '41 %'
 */
export function formatPercent(rate: number): string {
  return `${wholePercent(rate)} %`;
}

/**
 * The same within a sentence.
 *
 * @example
 * percentInWords(0.414) // '41 %'
 * percentInWords(0.999) // 'more than 99 %'
 * percentInWords(0.001) // 'less than 1 %'
 */
export function percentInWords(rate: number): string {
  return formatPercent(rate).replace('>', 'more than ').replace('<', 'less than ');
}

/** `38 to 75 %`. */
export function formatPercentRange({ low, high }: Range): string {
  return `${wholePercent(low)} to ${wholePercent(high)} %`;
}

function wholePercent(rate: number): string {
  if (rate < 0.005) return '<1';
  if (rate > 0.995) return '>99';
  return (100 * rate).toFixed(0);
}

/**
 * `3.3 h`; under an hour in minutes, since practice is counted in blocks of minutes.
 *
 * @example
 * formatHours(1.25) // '1.3 h'
 */
export function formatHours(hours: number): string {
  return hours < 0.995 ? `${(60 * hours).toFixed(0)} min` : `${hours.toFixed(1)} h`;
}

/**
 * A number with a tenth only where it has one.
 *
 * @example
 * formatTenths(4) // '4'
 * formatTenths(6.12) // '6.1'
 */
export function formatTenths(value: number): string {
  return formatNumber(value, Math.round(10 * value) % 10 === 0 ? 0 : 1);
}

/** `25 min`: minutes of practice, whole. */
export function formatMinutes(minutes: number): string {
  return `${minutes.toFixed(0)} min`;
}

/** `3.2 s`: seconds of a route or a run, with one decimal. */
export function formatSeconds(seconds: number): string {
  return `${formatNumber(seconds, 1)} s`;
}

/**
 * `1 file`, `3 files`, `no files`.
 *
 * @example
 * formatCount(1, 'block') // '1 block'
 * formatCount(3, 'block') // '3 blocks'
 */
export function formatCount(n: number, one: string, many = `${one}s`): string {
  return `${n === 0 ? 'no' : n} ${n === 1 ? one : many}`;
}

/**
 * `a, b and c`, or `a, b or c`.
 *
 * @param before the word before the last one
 * @example
 * formatList(['a', 'b', 'c']) // 'a, b and c'
 * formatList(['a', 'b', 'c'], 'or') // 'a, b or c'
 */
export function formatList(words: readonly string[], before: 'and' | 'or' = 'and'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${before} ${words.at(-1)!}`;
}

/**
 * A word of a file as a sentence quotes it: cut where it is far longer than any name that a person writes.
 *
 * @example
 * shortened('lamp-hop') // 'lamp-hop'
 */
export function shortened(word: string): string {
  return word.length <= longestQuoted ? word : `${word.slice(0, longestQuoted).replace(halfCharacter, '')}…`;
}

const longestQuoted = 80;
/** The first half of a character that two units make up. */
const halfCharacter = /[\uD800-\uDBFF]$/;
