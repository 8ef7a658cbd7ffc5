import type { RankReport } from '../../protocol/rankReport.ts';
import { formatTwoFigures, formatRange, formatPercent } from '../../text/format.ts';

/** How the gains of a ranking are written. */
export interface GainFormat {
  /** `3.4 s`. */
  readonly figures: (value: number) => string;
  /** `2.9 to 5.6 s`. */
  readonly range: (range: { readonly low: number; readonly high: number }) => string;
}

/** Gains as seconds, or as percentage points where the ranking is by the chance of beating a target. */
export function gainFormat({ objective }: Pick<RankReport, 'objective'>): GainFormat {
  const [scale, unit] = objective === 'target' ? [100, 'pp'] : [1, 's'];
  return {
    figures: (value) => `${formatTwoFigures(scale * value)} ${unit}`,
    range: ({ low, high }) => formatRange({ low: scale * low, high: scale * high }, unit),
  };
}

/** What the gains of a ranking are, as the beginning of a sentence. */
export function gainDefinition({ objective }: Pick<RankReport, 'objective'>): string {
  return objective === 'target'
    ? 'Gain: percentage points (pp) by which the chance of beating the target in an hour of runs rises for each hour of practice'
    : 'Gain: seconds of expected run time for each hour of practice';
}

/** How a ranking stands to the target asked for; undefined where there was none. */
export function targetSentence(
  { target }: Pick<RankReport, 'target'>,
  clock: (seconds: number) => string,
): string | undefined {
  if (target === null) return undefined;
  const time = clock(target.seconds);
  return target.ranked
    ? `Ranked by the chance of beating ${time} in an hour of runs, ${formatPercent(target.chance)} now.`
    : `Beating ${time} is out of reach for now, with any one technique more (a chance under one in a million in an hour of runs); ranked by time instead.`;
}
