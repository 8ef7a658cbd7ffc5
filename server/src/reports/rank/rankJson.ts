import type { Estimate } from '../../model/core/types.ts';
import type { RankReport } from './rankReport.ts';
import { estimate, figures, orNull, share } from '../rounding.ts';

/**
 * What `rank --json` prints: the report with its keys in a fixed order and its numbers rounded to more digits
 * than they are worth and fewer than rounding errors reach, so that the same files give the same bytes anywhere.
 */
export function rankJson(
  report: RankReport,
): Omit<RankReport, 'target'> & Partial<Pick<RankReport, 'target'>> {
  return {
    asOf: report.asOf,
    objective: report.objective,
    unit: report.unit,
    ...(report.target !== null && {
      target: {
        seconds: figures(report.target.seconds),
        chance: share(report.target.chance),
        ranked: report.target.ranked,
      },
    }),
    rows: report.rows.map((row) => ({
      technique: row.technique,
      gainPerHour: figures(row.gainPerHour),
      low: figures(row.low),
      high: figures(row.high),
      blocks: row.blocks,
      blockMinutes: figures(row.blockMinutes),
      hours: figures(row.hours),
      gain: figures(row.gain),
      breakEven: row.breakEven === null ? null : share(row.breakEven),
      practiceNow: shares(row.practiceNow),
      runNow: shares(row.runNow),
      runThen: shares(row.runThen),
      hoursToCompetent: {
        p10: orNull(figures, row.hoursToCompetent.p10),
        p50: orNull(figures, row.hoursToCompetent.p50),
        p90: orNull(figures, row.hoursToCompetent.p90),
      },
      chanceCompetent: share(row.chanceCompetent),
      chanceBest: share(row.chanceBest),
      opensWith: row.opensWith,
      reason: row.reason,
    })),
    skipped: report.skipped.map(({ technique, reason }) => ({ technique, reason })),
    runner: {
      offset: estimate(report.runner.offset, share),
      pressure: estimate(report.runner.pressure, share),
    },
  };
}

function shares(value: Estimate): Estimate {
  return estimate(value, share);
}
