import type { BarPiece, RangePicture } from '../../../reports/page.ts';

/** Columns that a range takes. */
export const rangeColumns = 12;

/** From where to where the ranges of a column reach; the scale begins at zero, or below it where a range does. */
export interface Scale {
  readonly from: number;
  readonly to: number;
}

/** The scale that all of these ranges fit on. */
export function scaleOf(ranges: readonly RangePicture[]): Scale {
  const ends = ranges.flatMap(({ low, mark, high }) => [low, mark, high]).filter(Number.isFinite);
  return { from: Math.min(0, ...ends), to: Math.max(0, ...ends) };
}

/**
 * A range as a bar with a mark.
 *
 * @example
 * rangeBar({ low: 0, mark: 1, high: 2 }, { from: 0, to: 4 }, true) // '━━━╋━━━     '
 */
export function rangeBar({ low, mark, high }: RangePicture, { from, to }: Scale, unicode: boolean): string {
  const [line, cross] = unicode ? ['━', '╋'] : ['=', '|'];
  const width = to - from;
  const column = (value: number): number => {
    const share = width > 0 && Number.isFinite(value) ? (value - from) / width : 0;
    return Math.max(0, Math.min(rangeColumns - 1, Math.round(share * (rangeColumns - 1))));
  };
  const [first, last] = [column(low), column(high)];
  const at = column(mark);
  return Array.from({ length: rangeColumns }, (_, i) =>
    i === at ? cross : i >= first && i <= last ? line : ' ',
  ).join('');
}

/** Eighths of a character, from none. */
const eighths = ['', '▏', '▎', '▍', '▌', '▋', '▊', '▉'];

/**
 * Pieces one after another as a bar. A last piece that is full ends at an eighth of a character.
 *
 * @param perColumn amount that one column stands for, above 0
 */
export function pieceBar(pieces: readonly BarPiece[], perColumn: number, unicode: boolean): string {
  let amount = 0;
  let bar = '';
  let at = 0;
  for (const [index, piece] of pieces.entries()) {
    amount += Math.max(0, piece.amount);
    const end = amount / perColumn;
    const only = unicode && piece.fill === 'full' && index === pieces.length - 1;
    const whole = only ? Math.floor(end + 1 / 16) : Math.round(end);
    bar += fillOf(piece.fill, unicode).repeat(Math.max(0, whole - at));
    at = Math.max(at, whole);
    if (only) bar += eighths[Math.max(0, Math.min(7, Math.round((end - whole) * 8)))]!;
  }
  return bar;
}

/** The character that a filling is drawn with; each looks different without colour, too. */
export function fillOf(fill: BarPiece['fill'], unicode: boolean): string {
  const characters = unicode ? { full: '█', light: '▒', empty: ' ' } : { full: '#', light: '-', empty: ' ' };
  return characters[fill];
}
