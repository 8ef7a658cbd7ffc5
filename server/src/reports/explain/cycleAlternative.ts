import type { CycleAlternative, RankedRow } from '../../model/rank/cycleAlternative.ts';
import { formatHours, formatNumber } from '../../text/format.ts';
import type { GainFormat } from '../rank/gainFormat.ts';
import { roundFigures } from '../rounding.ts';

/** A technique at another cycle, as `rank --cycle --json` prints it. */
export function cycleAlternativeJson({ technique, cycle, pace, now, then }: CycleAlternative) {
  return {
    technique,
    cycle: { now: roundFigures(cycle.now), then: roundFigures(cycle.then) },
    attemptsPerMinute: { now: roundFigures(pace.now), then: roundFigures(pace.then) },
    now: rankedRowJson(now),
    then: rankedRowJson(then),
  };
}

function rankedRowJson(placed: RankedRow | null) {
  if (placed === null) return null;
  const { place, row } = placed;
  return {
    place,
    gainPerHour: roundFigures(row.gainPerHour),
    low: roundFigures(row.low),
    high: roundFigures(row.high),
    blocks: row.blocks,
    hours: roundFigures(row.hours),
    gain: roundFigures(row.gain),
  };
}

/** A sentence on a technique's gain at another cycle. */
export function cycleAlternativeSentence(
  { cycle, pace, now, then }: CycleAlternative,
  unit: GainFormat,
): string {
  const seconds = (value: number): string => formatNumber(value, value % 1 === 0 ? 0 : 1);
  const rates = `${formatNumber(pace.then, 1)} attempts a minute instead of ${formatNumber(pace.now, 1)}`;
  const at = `An attempt every ${seconds(cycle.then)} s instead of ${seconds(cycle.now)} (${rates})`;
  if (now === null || then === null) return `${at}; it is not ranked, so that changes nothing here.`;
  const { row } = then;
  const place =
    then.place === now.place
      ? `it stays at place ${now.place}`
      : `it goes from place ${now.place} to ${then.place}`;
  return (
    `${at}: practice would gain ${unit.figures(row.gainPerHour)} an hour (${unit.range(row)}) over ` +
    `${formatHours(row.hours)}, where it gains ${unit.figures(now.row.gainPerHour)} now, and ${place}.`
  );
}
