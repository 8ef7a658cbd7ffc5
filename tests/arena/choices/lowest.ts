/** The lowest worth over the ways to play some places: every way tried, or group by group. */

/** Passes over the groups. */
const mostPasses = 4;

type WorthOf<Way> = (chosen: readonly Way[]) => number;

/**
 * The lowest worth, every way of each place tried with every way of the others.
 *
 * @param ways the ways to play each place, at least one
 */
export function lowestOfAll<Way>(ways: readonly (readonly Way[])[], worthOf: WorthOf<Way>): number {
  const chosen = ways.map(([first]) => first!);
  return improve(chosen, ways, [...ways.keys()], worthOf, Infinity);
}

/**
 * The lowest worth that is found from each place's first way, one group after the other until no group betters it. The groups
 * that lower the worth most by themselves come first.
 *
 * @param ways the ways to play each place, at least one
 * @param groups numbers of the places that are changed together
 */
export function lowestByGroups<Way>(
  ways: readonly (readonly Way[])[],
  groups: readonly (readonly number[])[],
  worthOf: WorthOf<Way>,
): number {
  const chosen = ways.map(([first]) => first!);
  const first = worthOf(chosen);
  const alone = groups.map((group) => {
    const worth = improve(chosen, ways, group, worthOf, first);
    for (const place of group) chosen[place] = ways[place]![0]!;
    return { group, worth };
  });
  alone.sort((a, b) => a.worth - b.worth);
  let best = first;
  for (let pass = 0; pass < mostPasses; pass++) {
    const before = best;
    for (const { group, worth } of alone)
      if (worth < first) best = improve(chosen, ways, group, worthOf, best);
    if (best === before) break;
  }
  return best;
}

/** Tries every way of some places; leaves the best one in `chosen`, where it is below `best`, and gives its worth. */
function improve<Way>(
  chosen: Way[],
  ways: readonly (readonly Way[])[],
  places: readonly number[],
  worthOf: WorthOf<Way>,
  before: number,
): number {
  let best = before;
  let pick = places.map((place) => chosen[place]!);
  const from = (n: number): void => {
    const place = places[n];
    if (place === undefined) {
      const now = worthOf(chosen);
      if (now >= best - 1e-12) return;
      best = now;
      pick = places.map((one) => chosen[one]!);
      return;
    }
    for (const way of ways[place]!) {
      chosen[place] = way;
      from(n + 1);
    }
  };
  from(0);
  places.forEach((place, n) => {
    chosen[place] = pick[n]!;
  });
  return best;
}
