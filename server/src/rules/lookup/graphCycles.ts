/**
 * One loop of each knot of a graph: a shortest one through the knot's first node. A knot is a set of nodes each
 * of which leads to each other (a strongly connected component), or a node that leads to itself.
 *
 * Takes time linear in nodes and edges (Tarjan 1972), without recursion, so that no chain is too long.
 *
 * @param edges node → the nodes it leads to; those that are no key are passed over
 * @returns the loops, each from its first node on, in the order of `edges`
 */
export function graphCycles(edges: ReadonlyMap<string, readonly string[]>): string[][] {
  const order = new Map([...edges.keys()].map((node, at) => [node, at]));
  return stronglyConnectedComponents(edges)
    .map((knot) => knot.sort((a, b) => order.get(a)! - order.get(b)!))
    .sort((a, b) => order.get(a[0]!)! - order.get(b[0]!)!)
    .map((knot) => shortestCycle(knot, edges));
}

interface Visit {
  readonly node: string;
  readonly index: number;
  low: number;
  next: number;
}

function stronglyConnectedComponents(edges: ReadonlyMap<string, readonly string[]>): string[][] {
  const indices = new Map<string, number>();
  const open: string[] = [];
  const isOpen = new Set<string>();
  const found: string[][] = [];
  const visits: Visit[] = [];
  const enter = (node: string) => {
    const index = indices.size;
    indices.set(node, index);
    open.push(node);
    isOpen.add(node);
    visits.push({ node, index, low: index, next: 0 });
  };
  for (const root of edges.keys()) {
    if (indices.has(root)) continue;
    enter(root);
    for (let visit = visits.at(-1); visit; visit = visits.at(-1)) {
      const to = edges.get(visit.node)![visit.next++];
      if (to !== undefined) {
        if (!edges.has(to)) continue;
        if (!indices.has(to)) enter(to);
        else if (isOpen.has(to)) visit.low = Math.min(visit.low, indices.get(to)!);
        continue;
      }
      visits.pop();
      const parent = visits.at(-1);
      if (parent) parent.low = Math.min(parent.low, visit.low);
      if (visit.low !== visit.index) continue;
      const knot = open.splice(open.lastIndexOf(visit.node));
      for (const node of knot) isOpen.delete(node);
      if (knot.length > 1 || edges.get(visit.node)!.includes(visit.node)) found.push(knot);
    }
  }
  return found;
}

/** Searches in breadth from the knot's first node back to it. */
function shortestCycle(knot: readonly string[], edges: ReadonlyMap<string, readonly string[]>): string[] {
  const first = knot[0]!;
  const inside = new Set(knot);
  const cameFrom = new Map<string, string>();
  const queue = [first];
  for (let at = 0; at < queue.length; at++) {
    const node = queue[at]!;
    for (const to of edges.get(node) ?? []) {
      if (to === first) {
        const loop = [node];
        for (let here = node; here !== first;) loop.push((here = cameFrom.get(here)!));
        return loop.reverse();
      }
      if (!inside.has(to) || cameFrom.has(to)) continue;
      cameFrom.set(to, node);
      queue.push(to);
    }
  }
  return [first];
}
