/** Values of a route as people write them into the cells of a table. */
import { pointForComma, readCounts } from '../tables/cellNumbers.ts';
import { nameKey } from '../text/nameKey.ts';
import { formatTime, parseTime } from '../text/time.ts';

/** A value as it is written into a route, or why it cannot be read: a whole sentence. */
export type CellValue<T> = { readonly value: T } | { readonly problem: string };

/** What people write into a cell that has nothing in it. Source: common practice. */
const nothing = ['-', '–', '—', 'n/a', 'none'];

/** Whether a cell says that there is nothing. */
export function isNothing(cell: string): boolean {
  return nothing.includes(cell.toLowerCase());
}

/** The mark that a spreadsheet shows in place of a value that it could not work out, such as `#REF!`. */
export function isSpreadsheetError(cell: string): boolean {
  return /^#(?:REF|VALUE|NAME|NULL|NUM|DIV\/0|N\/A|SPILL|CALC)[!?]?$/i.test(cell);
}

/**
 * The usual time of a segment: seconds, `m:ss.s` or `h:mm:ss.s`, with a point or a comma, in the shortest notation.
 *
 * @example
 * timeCell('0:01:31,80') // { value: '1:31.80' }
 */
export function timeCell(cell: string): CellValue<string> {
  const plain = pointForComma(withoutUnit(cell));
  const seconds = parseTime(plain);
  if (seconds === undefined)
    return { problem: `A time is written as 92.4 (seconds), 1:32.4 or 1:02:03, not as ${cell}.` };
  if (seconds === 0) return { problem: `The time of a segment is more than 0, not ${cell}.` };
  if (!plain.includes(':')) return { value: String(seconds) };
  return { value: formatTime(seconds, /\.(\d{1,20})$/.exec(plain)?.[1]?.length ?? 0) };
}

/**
 * Seconds, or a range of seconds such as `9..16`, `9-16` or `9 to 16`.
 *
 * @example
 * secondsOrRangeCell('9 to 16 s') // { value: '9..16' }
 */
export function secondsOrRangeCell(cell: string): CellValue<number | string> {
  const plain = withoutUnit(cell);
  const [, low = '', high = ''] =
    /^([\d.,:]{1,20}?)\s{0,3}(?:\.\.\.?|…|-|–|—|to)\s{0,3}([\d.,:]{1,20})$/i.exec(plain) ?? [];
  if (low === '') return oneNumber(cell, true);
  const [from, to] = [secondsIn(withoutUnit(low)), secondsIn(high)];
  if (from === undefined || to === undefined)
    return { problem: `A range is two numbers of seconds such as 9..16, not ${cell}.` };
  if (from > to) return { problem: `A range begins with its smaller number: ${to}..${from}, not ${cell}.` };
  return { value: from === to ? from : `${from}..${to}` };
}

/** Seconds, as a number or a time. */
export function secondsCell(cell: string): CellValue<number> {
  return oneNumber(cell, false);
}

/** @param orRange whether a range may stand in its place */
function oneNumber(cell: string, orRange: boolean): CellValue<number> {
  const seconds = secondsIn(withoutUnit(cell));
  if (seconds !== undefined) return { value: seconds };
  if (looksLikeDate(cell)) {
    const [meant, example] = orRange ? ['range', '9..16'] : ['number', '3.2'];
    return {
      problem: `${cell} is a date, which a spreadsheet may have made of a ${meant}. Write the ${meant} again, such as ${example}.`,
    };
  }
  if (/^[-−]/.test(cell)) return { problem: `Seconds are written without a sign, not as ${cell}.` };
  return {
    problem: `Seconds are a number such as 3.2${orRange ? ', or a range such as 9..16' : ''}, not ${cell}.`,
  };
}

function secondsIn(plain: string): number | undefined {
  return parseTime(pointForComma(plain.replace(/^\+/, '')));
}

/** A difficulty from 1 to 10: `4`, `4,5` or `4/10`. */
export function difficultyCell(cell: string): CellValue<number> {
  const pair = readCounts(cell);
  const written = pair?.tries === '10' ? pair.landed : pointForComma(cell);
  const value = /^\d{1,2}(?:\.\d{1,6})?$/.test(written) ? Number(written) : Number.NaN;
  if (value >= 1 && value <= 10) return { value };
  if (looksLikeDate(cell))
    return {
      problem: `${cell} is a date, which a spreadsheet may have made of 4/10. Write the number alone, such as 4.`,
    };
  return { problem: `A difficulty is a number from 1 (easy) to 10 (very hard), not ${cell}.` };
}

/** A chance, as a fraction or in per cent. Not 0: nobody would finish the route. */
export function chanceCell(cell: string, percent: boolean): CellValue<number> {
  const hasSign = /%$/.test(cell);
  const written = pointForComma(cell.replace(/\s?%$/, ''));
  const number = /^\d{1,3}(?:\.\d{1,6})?$/.test(written) ? Number(written) : Number.NaN;
  const value = hasSign || percent ? Number((number / 100).toFixed(8)) : number;
  if (value > 0 && value <= 1) return { value };
  return { problem: `A chance is above 0 and at most 1, such as 0.98 or 98 %, not ${cell}.` };
}

/** Source of the words and signs: common practice. */
const yes = ['yes', 'y', 'true', '1', 'x', '✓', '✔', '☑'];
const no = ['no', 'n', 'false', '0', '☐'];

export function yesOrNoCell(cell: string): CellValue<boolean> {
  const key = nameKey(cell);
  if (yes.includes(key)) return { value: true };
  return no.includes(key) ? { value: false } : { problem: `Write yes or no, not ${cell}.` };
}

/** The parts of a cell with several names: semicolons, commas, bars or line breaks stand between them. */
export function listCell(cell: string): string[] {
  return cell
    .split(/[;,|\n\r]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

function withoutUnit(cell: string): string {
  return cell.replace(/\s{0,3}(?:s|secs?|seconds?)\.?$/i, '');
}

/** What spreadsheets make of `9-16` and `4/10`: `16-Sep`, `10. Apr`, `2026-04-10`. */
function looksLikeDate(cell: string): boolean {
  return /^\d{1,4}[-./ ]{1,2}[a-z]{3,9}\.?$|^[a-z]{3,9}[-. ]{1,2}\d{1,4}$|^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}/i.test(
    cell,
  );
}
