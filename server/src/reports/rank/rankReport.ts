import { findObjective } from '../../model/rank/objectives/objectives.ts';
import type { Ranking } from '../../model/core/results.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { standingReports } from '../standingReports.ts';
import { formatDate } from '../../text/calendar.ts';

/**
 * A ranking with its date and unit.
 *
 * @param asOfDay day number of the morning that it is for
 * @param names names of techniques by id
 */
export function rankReport(
  ranking: Ranking,
  asOfDay: number,
  names: ReadonlyMap<string, string>,
): RankReport {
  return {
    asOf: formatDate(asOfDay),
    unit: findObjective(ranking.objective).gain.jsonUnit,
    ...ranking,
    standings: standingReports(ranking.standings, names),
  };
}
