import { formatDate } from '../files/calendar.ts';
import type { Ranking } from '../model/types.ts';

/** A ranking with what it stands on: `rank --json` prints it and the editor shows it. */
export interface RankReport extends Ranking {
  /** Date of the morning on which the question is asked. */
  readonly asOf: string;
  readonly objective: 'time';
  /** Unit of the gains: seconds of expected run time for each hour of practice. */
  readonly unit: string;
}

/**
 * @param asOfDay day number of the question
 */
export function rankReport(ranking: Ranking, asOfDay: number): RankReport {
  return { asOf: formatDate(asOfDay), objective: 'time', unit: 's/h', ...ranking };
}
