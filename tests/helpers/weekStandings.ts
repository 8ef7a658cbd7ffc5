/** A simple stand-in for where techniques stand, for tests of the planner. */
import type { Logs, RouteModel, StandingKind } from '../../server/src/model/core/types.ts';

/** In the run by its state; being learned if it was practised in the seven days before `asOfDay`. */
export function simpleStandings(
  { techniques }: Pick<RouteModel, 'techniques'>,
  { practice }: Pick<Logs, 'practice'>,
  asOfDay: number,
): Map<string, { readonly kind: StandingKind }> {
  const kindOf = (id: string, state: string): StandingKind => {
    if (state === 'in-run') return 'in-run';
    const recent = practice.some(
      ({ technique, day }) => technique === id && day <= asOfDay && day >= asOfDay - 7,
    );
    return recent ? 'learning' : 'not-begun';
  };
  return new Map(techniques.map(({ id, state }) => [id, { kind: kindOf(id, state) }]));
}
