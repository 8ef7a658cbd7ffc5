import type { Standing } from '../core/standing.ts';
import type { StandingKind } from '../core/types.ts';

/** A technique that stands elsewhere than before. */
export interface ChangedStanding {
  readonly technique: string;
  readonly from: StandingKind;
  readonly to: StandingKind;
  /** Where it stands now, with the cause. */
  readonly standing: Standing;
}

/**
 * The techniques whose kind of standing differs between two mornings, in the order of `now`. A technique that one of
 * the two mornings does not have is no change.
 */
export function changedStandings(
  before: ReadonlyMap<string, Standing>,
  now: ReadonlyMap<string, Standing>,
): ChangedStanding[] {
  return [...now.values()].flatMap((standing) => {
    const from = before.get(standing.technique)?.kind;
    if (from === undefined || from === standing.kind) return [];
    return { technique: standing.technique, from, to: standing.kind, standing };
  });
}
