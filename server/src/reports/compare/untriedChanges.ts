import type { RouteModel } from '../../model/core/types.ts';

/** A technique that differs between two routes without a trace in their expected times. */
export interface UntriedChange {
  readonly id: string;
  /** The only side that has it; undefined where both have it. */
  readonly onlyIn: 'a' | 'b' | undefined;
}

/**
 * Techniques whose difficulty, seconds, needs or places differ and which neither side tries, sorted by id. What the runner
 * says of a technique is no part of a route, and does not count.
 *
 * @param tried ids that one of the sides tries
 */
export function untriedChanges(a: RouteModel, b: RouteModel, tried: ReadonlySet<string>): UntriedChange[] {
  const [before, after] = [descriptionsOf(a), descriptionsOf(b)];
  return [...new Set([...before.keys(), ...after.keys()])]
    .filter((id) => !tried.has(id) && before.get(id) !== after.get(id))
    .sort()
    .map((id) => ({ id, onlyIn: !before.has(id) ? 'b' : !after.has(id) ? 'a' : undefined }));
}

/** By technique: everything that a route says of it, as a text to compare. */
function descriptionsOf({ techniques, segments }: RouteModel): Map<string, string> {
  return new Map(
    techniques.map(({ id, difficulty, needs, attemptSeconds, reloadSeconds }) => {
      const uses = segments.flatMap(({ id: segment, uses: all }) =>
        all.filter(({ technique }) => technique === id).map((use) => ({ segment, ...use })),
      );
      return [id, JSON.stringify([difficulty, needs, attemptSeconds, reloadSeconds, uses])];
    }),
  );
}
