/** Standings with dates and sentences, the same in every report. */
import { isInSet, type Standing } from '../model/core/standing.ts';
import type { StandingKind } from '../model/core/types.ts';
import type { StandingFields, StandingReport } from '../protocol/standing.ts';
import { nameLookup } from '../queries/names.ts';
import { standingLabels, standingSentence } from '../queries/standingText.ts';
import { formatDate } from '../text/calendar.ts';

/** @param names names of techniques by id */
export function standingReports(
  standings: readonly Standing[],
  names: ReadonlyMap<string, string>,
): StandingReport[] {
  const nameOf = nameLookup(names);
  return standings.map((standing) => ({
    technique: standing.technique,
    standing: standing.kind,
    since: standing.since === null ? null : formatDate(standing.since),
    reason: standingSentence(standing, nameOf),
  }));
}

/** The same as a message of the editor says it of a technique in a list. */
export function standingFieldsOf(kind: StandingKind): StandingFields {
  return { standing: kind, standingText: standingLabels[kind], inSet: isInSet({ kind }) };
}

/** Where the techniques of a report stand, by id. */
export type StandingsById = ReadonlyMap<string, StandingReport>;

/** The standings of a report by id. */
export function standingsById(standings: readonly StandingReport[]): StandingsById {
  return new Map(standings.map((standing) => [standing.technique, standing]));
}

/**
 * Where a technique that a report names stands.
 *
 * @throws RangeError if the report has no standing of it
 */
export function standingReportOf(standings: StandingsById, technique: string): StandingReport {
  const standing = standings.get(technique);
  if (!standing) throw new RangeError(`The report has no standing of ${technique}.`);
  return standing;
}
