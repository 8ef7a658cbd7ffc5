import { compareCodeUnits } from '../core/numbers.ts';
import type { Standing } from '../core/standing.ts';
import type { RouteModel } from '../core/types.ts';

/**
 * The techniques that somebody may want to try in a run today, and for which trying costs time. Those that are tried in
 * runs come first, then those that are being learned; among these, the one that is furthest below its break-even first.
 *
 * A technique that the week file leaves out is not among them: the runner decides about it. Nor is one that saves
 * nothing by itself but opens others, because they save the time.
 */
export function notForRuns(standings: readonly Standing[], route: RouteModel): Standing[] {
  const opening = opens(route);
  return standings
    .filter(
      (standing) => costsTime(standing) && !(standing.breakEven === null && opening.has(standing.technique)),
    )
    .sort(
      (a, b) =>
        Number(b.tried) - Number(a.tried) ||
        shortfall(b) - shortfall(a) ||
        compareCodeUnits(a.technique, b.technique),
    );
}

function costsTime({ kind, tried, worthTrying, breakEven, runNow }: Standing): boolean {
  if (kind === 'left-out') return false;
  if (tried) return !worthTrying;
  return kind === 'learning' && breakEven !== null && runNow < breakEven;
}

/** How far the landing rate in a run is below the break-even; one that pays at no rate is as far below as possible. */
function shortfall({ breakEven, runNow }: Standing): number {
  return (breakEven ?? Infinity) - runNow;
}

/** The techniques that others need, and those that pick up an item that others use. */
function opens({ techniques, segments }: RouteModel): ReadonlySet<string> {
  const uses = segments.flatMap((segment) => segment.uses);
  const wanted = new Set(uses.flatMap((use) => use.with ?? []));
  return new Set([
    ...techniques.flatMap(({ needs }) => needs),
    ...uses.flatMap(({ take, technique }) => (take !== undefined && wanted.has(take) ? technique : [])),
  ]);
}
