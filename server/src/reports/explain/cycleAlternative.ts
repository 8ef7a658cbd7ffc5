import type { Alternative, PlacedRow } from '../../model/rank/cycleAlternative.ts';
import { formatHours, formatNumber } from '../../text/format.ts';
import type { GainUnit } from '../rank/gainFormat.ts';
import { figures } from '../rounding.ts';

/** A technique at another cycle, as `rank --cycle --json` prints it. */
export function alternativeJson({ technique, cycle, pace, now, then }: Alternative) {
  return {
    technique,
    cycle: { now: figures(cycle.now), then: figures(cycle.then) },
    attemptsPerMinute: { now: figures(pace.now), then: figures(pace.then) },
    now: placedJson(now),
    then: placedJson(then),
  };
}

function placedJson(placed: PlacedRow | null) {
  if (placed === null) return null;
  const { place, row } = placed;
  return {
    place,
    gainPerHour: figures(row.gainPerHour),
    low: figures(row.low),
    high: figures(row.high),
    blocks: row.blocks,
    hours: figures(row.hours),
    gain: figures(row.gain),
  };
}

/** What another cycle makes of a technique, in a sentence. */
export function alternativeSentence({ cycle, pace, now, then }: Alternative, unit: GainUnit): string {
  const seconds = (value: number): string => formatNumber(value, value < 10 && value % 1 !== 0 ? 1 : 0);
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
