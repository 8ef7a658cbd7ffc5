import type { Estimate } from '../../model/core/types.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { roundEstimate, roundFigures, roundOrNull, roundShare, roundRunner } from '../rounding.ts';

/**
 * What `rank --json` prints: the report with its keys in a fixed order and its numbers rounded to more digits than are
 * meaningful and to fewer than rounding errors can change, so that the same files give the same bytes on every machine.
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
        seconds: roundFigures(report.target.seconds),
        chance: roundShare(report.target.chance),
        ranked: report.target.ranked,
      },
    }),
    rows: report.rows.map((row) => ({
      technique: row.technique,
      gainPerHour: roundFigures(row.gainPerHour),
      low: roundFigures(row.low),
      high: roundFigures(row.high),
      blocks: row.blocks,
      blockMinutes: roundFigures(row.blockMinutes),
      hours: roundFigures(row.hours),
      gain: roundFigures(row.gain),
      breakEven: row.breakEven === null ? null : roundShare(row.breakEven),
      resetWeight: row.resetWeight,
      practiceNow: roundEstimateShares(row.practiceNow),
      runNow: roundEstimateShares(row.runNow),
      runThen: roundEstimateShares(row.runThen),
      hoursToCompetent: {
        p10: roundOrNull(roundFigures, row.hoursToCompetent.p10),
        p50: roundOrNull(roundFigures, row.hoursToCompetent.p50),
        p90: roundOrNull(roundFigures, row.hoursToCompetent.p90),
      },
      chanceCompetent: roundShare(row.chanceCompetent),
      chanceBest: roundShare(row.chanceBest),
      opensWith: row.opensWith,
      openNeeds: row.openNeeds,
      package: row.package && {
        gainPerHour: roundFigures(row.package.gainPerHour),
        blocks: row.package.blocks,
        hours: roundFigures(row.package.hours),
        members: row.package.members,
        further: row.package.further,
      },
      ...(row.otherRunners !== undefined && { otherRunners: row.otherRunners }),
      reason: row.reason,
    })),
    standings: report.standings,
    skipped: report.skipped.map(({ technique, reason }) => ({ technique, reason })),
    runner: roundRunner(report.runner),
  };
}

function roundEstimateShares(value: Estimate): Estimate {
  return roundEstimate(value, roundShare);
}
