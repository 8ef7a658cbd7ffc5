/** Standings as every command prints them with `--json`. */
import type { Standing } from '../model/core/standing.ts';
import type { StandingKind } from '../model/core/types.ts';
import { standingSentence } from '../queries/standingText.ts';
import { formatDate } from '../text/calendar.ts';

export interface StandingJson {
  readonly technique: string;
  readonly standing: StandingKind;
  /** Date from which it holds; null if that cannot be said. */
  readonly since: string | null;
  readonly reason: string;
}

/** @param nameOf name of a technique by its id */
export function standingsJson(
  standings: readonly Standing[],
  nameOf: (id: string) => string,
): StandingJson[] {
  return standings.map((standing) => ({
    technique: standing.technique,
    standing: standing.kind,
    since: standing.since === null ? null : formatDate(standing.since),
    reason: standingSentence(standing, nameOf),
  }));
}
