import { formatWeight } from '../queries/resetWeightText.ts';
import { formatPercent } from '../text/format.ts';

/**
 * A break-even for people. Where a miss ends the run, it rests on what a second lost to resets counts, and says so.
 *
 * @param resetWeight seconds of a finished run for each second lost to resets; null where no miss ends the run
 * @example
 * breakEvenText(0.31, null) // '31 %'
 * breakEvenText(0.31, 0.01) // '31 %, with a second lost to resets counted as 0.01 s (clock_weight)'
 */
export function breakEvenText(breakEven: number | null, resetWeight: number | null): string {
  if (breakEven === null) return 'none: it saves nothing alone';
  return formatPercent(breakEven) + resetWeightText(resetWeight);
}

function resetWeightText(resetWeight: number | null): string {
  return resetWeight === null
    ? ''
    : `, with a second lost to resets counted as ${formatWeight(resetWeight)} (clock_weight)`;
}
