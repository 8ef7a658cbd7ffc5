/** Which choices and segments of a route have to do with which technique. */
import type { RouteLayout } from './routeLayout.ts';

/** Segments that the choices lie in, with all that share an item with them, in order. */
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

/** All that valuing takes from each segment, as text: where texts are equal, so is what they are worth in one run. */
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
