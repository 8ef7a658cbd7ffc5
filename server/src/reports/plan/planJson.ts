import { roundFigures } from '../rounding.ts';
import type { PlanReport } from './planReport.ts';

/** What `plan --json` prints: keys in a fixed order, numbers rounded so that the same files give the same bytes. */
export function planJson(report: PlanReport): PlanReport {
  const { method, value, bound } = report.gap;
  return {
    asOf: report.asOf,
    set: report.set,
    days: report.days.map(({ date, blocks, runMinutes, unused }) => ({
      date,
      blocks: blocks.map(({ technique, minutes, rest }) => ({ technique, minutes, rest })),
      runMinutes: roundFigures(runMinutes),
      unused: unused === null ? null : { minutes: unused.minutes, rule: unused.rule },
    })),
    forecast: report.forecast.map(({ date, gain, low, high }) => ({
      date,
      gain: roundFigures(gain),
      low: roundFigures(low),
      high: roundFigures(high),
    })),
    oneSession: { gain: roundFigures(report.oneSession.gain) },
    gap: { method, value: roundFigures(value), bound: bound === null ? null : roundFigures(bound) },
    notes: report.notes,
    swaps: report.swaps.map(({ technique, gainPerHour, instead, insteadGainPerHour }) => ({
      technique,
      gainPerHour: roundFigures(gainPerHour),
      instead,
      insteadGainPerHour: roundFigures(insteadGainPerHour),
    })),
    standings: report.standings,
  };
}
