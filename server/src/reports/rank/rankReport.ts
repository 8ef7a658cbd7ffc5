import { findObjective } from '../../model/rank/objectives/objectives.ts';
import type { Ranking } from '../../model/core/types.ts';
import type { RankReport } from '../../protocol/rankReport.ts';
import { formatDate } from '../../text/calendar.ts';

/** A ranking with its date and unit. `asOfDay` is the day number of the morning that it is for. */
export function rankReport(ranking: Ranking, asOfDay: number): RankReport {
  return {
    asOf: formatDate(asOfDay),
    unit: findObjective(ranking.objective).gain.jsonUnit,
    ...ranking,
  };
}
