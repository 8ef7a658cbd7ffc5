import type { RankReport } from '../../protocol/rankReport.ts';
import { formatDate } from '../../text/calendar.ts';
import type { Ranking } from '../../model/core/types.ts';

/**
 * @param asOfDay day number of the question
 */
export function rankReport(ranking: Ranking, asOfDay: number): RankReport {
  const byTarget = ranking.target?.ranked === true;
  return {
    asOf: formatDate(asOfDay),
    objective: byTarget ? 'target' : 'time',
    unit: byTarget ? '1/h' : 's/h',
    ...ranking,
  };
}
