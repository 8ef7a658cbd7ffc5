import { roundFigures } from '../rounding.ts';
import type { TonightReport } from '../../protocol/tonightReport.ts';

/** What `tonight --json` prints: keys in a fixed order, numbers rounded so that the same files give the same bytes. */
export function tonightJson(report: TonightReport): TonightReport {
  return {
    date: report.date,
    blocks: report.blocks.map(({ technique, minutes, reason, from, rest }) => ({
      technique,
      minutes,
      reason,
      from,
      rest,
    })),
    notInRuns: report.notInRuns,
    changed: report.changed,
    unusedMinutes: roundFigures(report.unusedMinutes),
    standings: report.standings,
    unusedRule: report.unusedRule,
    done: report.done.map(({ technique, minutes }) => ({ technique, minutes: roundFigures(minutes) })),
    lastDate: report.lastDate,
    nothing: report.nothing,
    swaps: report.swaps.map(({ technique, gainPerHour, instead, insteadGainPerHour }) => ({
      technique,
      gainPerHour: roundFigures(gainPerHour),
      instead,
      insteadGainPerHour: roundFigures(insteadGainPerHour),
    })),
  };
}
