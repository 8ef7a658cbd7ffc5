import type { Estimate } from '../model/types.ts';
import type { RankReport } from './rankReport.ts';

/**
 * What `rank --json` prints: the report with its keys in a fixed order and its numbers rounded to more digits
 * than they are worth and fewer than rounding errors reach, so that the same files give the same bytes anywhere.
 */
export function rankJson(report: RankReport): RankReport {
  return {
    asOf: report.asOf,
    objective: report.objective,
    unit: report.unit,
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
        p10: figuresOrNull(row.hoursToCompetent.p10),
        p50: figuresOrNull(row.hoursToCompetent.p50),
        p90: figuresOrNull(row.hoursToCompetent.p90),
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

/** Four figures, at most six decimals. */
function figures(value: number): number {
  return Number(Number(value.toPrecision(4)).toFixed(6)) + 0;
}

function figuresOrNull(value: number | null): number | null {
  return value === null ? null : figures(value);
}

/** Four decimals: a hundredth of a percent. */
function share(value: number): number {
  return Number(value.toFixed(4)) + 0;
}

function shares(value: Estimate): Estimate {
  return estimate(value, share);
}

function estimate({ mean, low, high }: Estimate, round: (value: number) => number): Estimate {
  return { mean: round(mean), low: round(low), high: round(high) };
}
