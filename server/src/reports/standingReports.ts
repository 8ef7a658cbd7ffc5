/** Standings with dates and sentences, the same in every report. */
import type { Standing } from '../model/core/standing.ts';
import type { StandingReport } from '../protocol/standing.ts';
import { standingSentence } from '../queries/standingText.ts';
import { formatDate } from '../text/calendar.ts';

/** @param names names of techniques by id */
export function standingReports(
  standings: readonly Standing[],
  names: ReadonlyMap<string, string>,
): StandingReport[] {
  return standings.map((standing) => ({
    technique: standing.technique,
    standing: standing.kind,
    since: standing.since === null ? null : formatDate(standing.since),
    reason: standingSentence(standing, (id) => names.get(id) ?? id),
  }));
}
