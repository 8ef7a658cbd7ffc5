import { formatTime } from '../../text/time.ts';
import type { Tick } from '../../protocol/panel/viewParts.ts';

const steps = [0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1800, 3600];

/** Ticks at clock times along an axis: at most six, at round seconds, minutes or hours. */
export function timeTicks(from: number, to: number): Tick[] {
  const step = steps.find((one) => (to - from) / one <= 6) ?? 7200;
  const ticks: Tick[] = [];
  for (let i = Math.ceil(from / step); i * step <= to; i++) {
    ticks.push({ at: i * step, label: formatTime(i * step, step < 1 ? 1 : 0) });
  }
  return ticks;
}
