/** Finds the choices and segments of a route that a technique affects. */
import type { RouteLayout } from './routeLayout.ts';

/** The segments of the choices and all segments that share an item with them, in order. */
export function affectedSegments(layout: RouteLayout, choices: readonly number[]): number[] {
  const touched = new Set(choices.map((c) => layout.choices[c]!.segment));
  const joined = [...layout.itemSegments.values()];
  for (let size = -1; size !== touched.size;) {
    size = touched.size;
    for (const list of joined) if (list.some((s) => touched.has(s))) for (const s of list) touched.add(s);
  }
  return [...touched].sort((a, b) => a - b);
}

/** Choices in which the technique can be played, itself or as a backup. */
export function choicesOfTechnique(
  { choicesByTechnique: byTechnique }: RouteLayout,
  technique: string,
): readonly number[] {
  return byTechnique.get(technique) ?? [];
}

/**
 * Everything about each segment that affects the worth of a run, as text. Equal texts mean that the segments have
 * equal effects.
 */
export function segmentCacheKeys({
  times,
  survival,
  choices,
  choicesInSegment: inSegment,
}: RouteLayout): string[] {
  return inSegment.map((here, s) =>
    JSON.stringify([times[s], survival[s], here.map((c) => [c, choices[c]!.options])]),
  );
}
