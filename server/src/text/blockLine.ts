/** Bars of one to eight eighths of the full height. */
const bars = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
/** The same for a terminal that shows letters of ASCII only: the more ink, the higher. */
const asciiBars = ['.', ':', '-', '=', '+', '*', '#', '@'];

/**
 * Shares as a row of bars, one character each; a full bar is 1, and null a blank.
 *
 * @param shares 0 to 1, or null where there is nothing to show
 * @example
 * blockLine([0, 0.5, 1]) // '▁▅█'
 */
export function blockLine(shares: readonly (number | null)[], unicode = true): string {
  const levels = unicode ? bars : asciiBars;
  return shares
    .map((share) =>
      share === null
        ? ' '
        : levels[Math.max(0, Math.min(levels.length - 1, Math.floor(share * levels.length)))],
    )
    .join('');
}
