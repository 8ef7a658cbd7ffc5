import type { GainUnit } from '../../model/rank/objectives/objective.ts';
import { findObjective, objectives } from '../../model/rank/objectives/objectives.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { formatTwoFigures, formatRange, formatPercent, rangeDecimals } from '../../text/format.ts';

/** Writes the gains of a ranking. */
export interface GainFormat {
  /** `3.4 s`. */
  readonly figures: (value: number) => string;
  /** `2.9 to 5.6 s`. */
  readonly range: (range: GainRange) => string;
}

interface GainRange {
  readonly low: number;
  readonly high: number;
}

/**
 * Writes gains with the unit of an objective.
 *
 * @param together the ranges of the list that is written, which all get the same decimals; left out: each is alone
 */
export function gainFormat({ scale, symbol }: GainUnit, together?: readonly GainRange[]): GainFormat {
  const inUnit = ({ low, high }: GainRange): GainRange => ({ low: scale * low, high: scale * high });
  return {
    figures: (value) => `${formatTwoFigures(scale * value)} ${symbol}`,
    range: (range) => formatRange(inUnit(range), symbol, rangeDecimals((together ?? [range]).map(inUnit))),
  };
}

/** The unit of a ranking's gains. */
export function gainUnitOf({ objective }: Pick<RankReport, 'objective'>): GainUnit {
  return findObjective(objective).gain;
}

/** A ranking's sentence on the target; undefined where there is none. `clock` writes seconds as a time. */
export function targetSentence(
  { target }: Pick<RankReport, 'target'>,
  clock: (seconds: number) => string,
): string | undefined {
  if (target === null) return undefined;
  const words = objectives.find(({ needs }) => needs === 'target')?.targetText;
  return words?.(clock(target.seconds), formatPercent(target.chance), target.ranked);
}
