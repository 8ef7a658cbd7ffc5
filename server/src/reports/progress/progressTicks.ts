import { formatDate } from '../../text/calendar.ts';
import { monthOf } from '../../text/months.ts';
import type { Tick } from '../../protocol/panel/viewParts.ts';
import type { Period, PeriodUnit } from './progressPeriods.ts';

/** About so many labels fit below the smallest chart. */
const mostTicks = 4;

/** Ticks where periods begin: month and day of weeks (`11-23`), months as `2026-11`, longer periods as years. */
export function progressTicks(periods: readonly Period[], unit: PeriodUnit): Tick[] {
  if (unit === 'week') {
    const step = Math.ceil(periods.length / (mostTicks + 1));
    return periods
      .filter((_, at) => at % step === 0)
      .map(({ from }) => ({ at: from, label: formatDate(from).slice(5) }));
  }
  const years = periods.filter(({ from }) => monthOf(from) % 12 === 0);
  if (years.length >= 2) {
    const step = Math.ceil(years.length / (mostTicks + 1));
    return years
      .filter((_, at) => at % step === 0)
      .map(({ from }) => ({ at: from, label: formatDate(from).slice(0, 4) }));
  }
  const step = Math.ceil(periods.length / mostTicks);
  return periods
    .filter((_, at) => at % step === 0)
    .map(({ from }) => ({ at: from, label: formatDate(from).slice(0, 7) }));
}
