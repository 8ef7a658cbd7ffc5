/** Numbers as people write them into the cells of a table. */

/** Landed attempts out of tries. */
export interface CellCounts {
  readonly landed: string;
  readonly tries: string;
}

/**
 * A count pair such as `61/190`, `61 / 190`, `61 of 190` or `61 out of 190`; undefined for any other text.
 *
 * @example
 * readCounts('61 of 190') // { landed: '61', tries: '190' }
 */
export function readCounts(cell: string): CellCounts | undefined {
  const [, landed, tries] = /^(\d{1,9})\s{0,3}(?:\/|of|out of)\s{0,3}(\d{1,9})$/i.exec(cell) ?? [];
  return landed === undefined || tries === undefined ? undefined : { landed, tries };
}

/**
 * A whole number without what a spreadsheet adds to it: `1,240`, `1 240`, `190.0`. Any other text comes back as it is.
 *
 * @example
 * plainCount('1,240') // '1240'
 */
export function plainCount(cell: string): string {
  if (/^\d{1,9}[.,]0{1,3}$/.test(cell) && !/[.,]000$/.test(cell)) return cell.replace(/[.,].*/, '');
  return /^\d{1,3}([,. ]\d{3}){1,2}$/.test(cell) ? cell.replaceAll(/[,. ]/g, '') : cell;
}

/**
 * A number or a time with a point for its decimals: `1:31,8` becomes `1:31.8`. Any other text comes back as it is.
 *
 * @example
 * pointForComma('12,5') // '12.5'
 */
export function pointForComma(cell: string): string {
  return /^[\d:]{1,15},\d{1,6}$/.test(cell) ? cell.replace(',', '.') : cell;
}

/**
 * A number where a cell of the user's own column is one, its text otherwise.
 *
 * @example
 * numberOrText('3.5') // 3.5
 * numberOrText('007') // '007'
 */
export function numberOrText(cell: string): string | number {
  return /^-?(?:0|[1-9]\d{0,14})(?:\.\d{1,10})?$/.test(cell) ? Number(cell) : cell;
}
