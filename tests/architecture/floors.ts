/** How many files of one room import a file of another, by the two rooms. */
export type Weights = ReadonlyMap<string, ReadonlyMap<string, number>>;

/** Rooms up to which every order is compared: the number of sets of them is what it costs. */
const MOST_EXACT = 18;

/**
 * The order of rooms, from the ground up, in which the fewest imports run up. It is the most favourable order that
 * anyone could give to a source without a table of its own: what runs up in it runs up in every order.
 *
 * Held and Karp's way over sets: the best order of a set ends with some room of it, and what stands below that room is
 * ordered best, too. Exact up to {@link MOST_EXACT} rooms.
 *
 * @throws RangeError with more rooms than that
 */
export function fairestOrder(rooms: readonly string[], weights: Weights): string[] {
  const count = rooms.length;
  if (count > MOST_EXACT) throw new RangeError(`${count} rooms have too many orders to compare.`);
  const weight = rooms.map((from) =>
    rooms.map((to) => (from === to ? 0 : (weights.get(from)?.get(to) ?? 0))),
  );
  const sets = 2 ** count;
  // Of each set of rooms that stand at the bottom: how many imports run up from within it, and its highest room.
  const least = new Float64Array(sets).fill(Infinity);
  const highest = new Int8Array(sets).fill(-1);
  least[0] = 0;
  for (let below = 0; below < sets; below++) {
    for (let room = 0; room < count; room++) {
      if (below & (1 << room)) continue;
      // Put on top of `below`, each import of it by what stands below it runs up.
      let up = least[below]!;
      for (let lower = 0; lower < count; lower++) if (below & (1 << lower)) up += weight[lower]![room]!;
      const set = below | (1 << room);
      if (up < least[set]!) {
        least[set] = up;
        highest[set] = room;
      }
    }
  }
  const order: string[] = [];
  for (let set = sets - 1; set > 0; set ^= 1 << highest[set]!) order.unshift(rooms[highest[set]!]!);
  return order;
}
