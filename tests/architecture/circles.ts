/**
 * Groups in which each can be reached from each other (Tarjan's strongly connected components), of two and more.
 * A circle of imports lies within one of them, and each of them holds at least one circle.
 *
 * @param arrows where the arrows of each lead to
 * @returns the members of each group in the order of `arrows`
 */
export function circlesOf(arrows: ReadonlyMap<string, Iterable<string>>): string[][] {
  const order = new Map([...arrows.keys()].map((name, index) => [name, index]));
  const number = new Map<string, number>();
  const lowest = new Map<string, number>();
  const open: string[] = [];
  const isOpen = new Set<string>();
  const groups: string[][] = [];

  const visit = (name: string): number => {
    const own = number.size;
    number.set(name, own);
    lowest.set(name, own);
    open.push(name);
    isOpen.add(name);
    for (const next of arrows.get(name) ?? []) {
      if (!arrows.has(next)) continue;
      const reached = number.has(next) ? (isOpen.has(next) ? number.get(next)! : own) : visit(next);
      lowest.set(name, Math.min(lowest.get(name)!, reached));
    }
    if (lowest.get(name) === own) {
      const group = open.splice(open.indexOf(name));
      for (const member of group) isOpen.delete(member);
      if (group.length > 1) groups.push(group.sort((a, b) => order.get(a)! - order.get(b)!));
    }
    return lowest.get(name)!;
  };

  for (const name of arrows.keys()) if (!number.has(name)) visit(name);
  return groups;
}
