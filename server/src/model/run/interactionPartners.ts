/** Finds techniques that cannot be valued separately, because the worth of one depends on whether the other is used. */
import type { RouteLayout } from './routeLayout.ts';

/**
 * The partners of each technique: those that share a spot with it, back it up or are backed up by it, take or need
 * an item that it takes or needs, or can end the run in a segment in which it can also end it.
 */
export function interactionPartners({
  choices,
  choicesInSegment: inSegment,
}: RouteLayout): ReadonlyMap<string, ReadonlySet<string>> {
  const partners = new Map<string, Set<string>>();
  const join = (group: ReadonlySet<string>): void => {
    for (const a of group) {
      const own = partners.get(a) ?? new Set();
      partners.set(a, own);
      for (const b of group) if (a !== b) own.add(b);
    }
  };
  const byItem = new Map<string, Set<string>>();
  for (const { options } of choices) {
    join(
      new Set(
        options.flatMap(({ technique, backup }) => (backup === null ? [technique] : [technique, backup])),
      ),
    );
    for (const { use, technique } of options) {
      for (const item of [use.take, use.with]) {
        if (item === undefined) continue;
        byItem.set(item, (byItem.get(item) ?? new Set()).add(technique));
      }
    }
  }
  for (const group of byItem.values()) join(group);
  for (const numbers of inSegment) {
    const ending = numbers.flatMap((c) => choices[c]!.options).filter(({ plain }) => plain.endShare > 0);
    join(new Set(ending.map(({ technique }) => technique)));
  }
  return partners;
}
