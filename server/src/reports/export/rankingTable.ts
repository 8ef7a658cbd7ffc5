import type { RankReport } from '../../protocol/rankReport.ts';
import { rankJson } from '../rank/rankJson.ts';
import type { ExportTable } from './logTables.ts';

/**
 * A ranking as a table, the best first. Rates are fractions; what nobody knows is empty.
 *
 * @param names by technique
 */
export function rankingTable(report: RankReport, names: ReadonlyMap<string, string>): ExportTable {
  const { rows, unit, asOf } = rankJson(report);
  return {
    headings: [
      'as of',
      'place',
      'technique',
      'name',
      `gain per hour (${unit})`,
      `gain per hour, low (${unit})`,
      `gain per hour, high (${unit})`,
      'hours',
      'gain',
      'break-even',
      'lands in practice',
      'lands in runs',
      'lands in runs then',
      'hours to competent',
      'chance to become competent',
      'chance to be the best choice',
      'reason',
    ],
    rows: rows.map((row, at) => [
      asOf,
      at + 1,
      row.technique,
      names.get(row.technique) ?? row.technique,
      row.gainPerHour,
      row.low,
      row.high,
      row.hours,
      row.gain,
      row.breakEven ?? undefined,
      row.practiceNow.mean,
      row.runNow.mean,
      row.runThen.mean,
      row.hoursToCompetent.p50 ?? undefined,
      row.chanceCompetent,
      row.chanceBest,
      row.reason,
    ]),
  };
}
