import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { graphCycles } from '../../../../server/src/rules/lookup/graphCycles.ts';

/** Nodes reached from `from` in one step or more, by plain search. */
function reached(edges: ReadonlyMap<string, readonly string[]>, from: string): Set<string> {
  const found = new Set<string>();
  const queue = [...(edges.get(from) ?? [])];
  for (let node = queue.pop(); node !== undefined; node = queue.pop()) {
    if (found.has(node)) continue;
    found.add(node);
    queue.push(...(edges.get(node) ?? []));
  }
  return found;
}

const graph = fc
  .integer({ min: 1, max: 9 })
  .chain((n) =>
    fc.array(fc.uniqueArray(fc.integer({ min: 0, max: n }), { maxLength: 3 }), {
      minLength: n,
      maxLength: n,
    }),
  )
  // A node one beyond the last is a key of nothing, as a need that is defined nowhere.
  .map((lists) => new Map(lists.map((to, node) => [`n${node}`, to.map((other) => `n${other}`)])));

describe('loops', () => {
  it('finds one true loop for each set of nodes that reach each other', () => {
    fc.assert(
      fc.property(graph, (edges) => {
        const found = graphCycles(edges);
        for (const loop of found) {
          expect(new Set(loop).size).toBe(loop.length);
          for (const [at, node] of loop.entries()) {
            expect(edges.get(node)).toContain(loop[(at + 1) % loop.length]);
          }
        }
        // By exhaustive search: the first node of each set of nodes that reach each other, itself included.
        const reach = new Map([...edges.keys()].map((node) => [node, reached(edges, node)]));
        const onLoop = [...edges.keys()].filter((node) => reach.get(node)!.has(node));
        const firsts = onLoop.filter(
          (node, at) =>
            !onLoop.slice(0, at).some((other) => reach.get(node)!.has(other) && reach.get(other)!.has(node)),
        );
        expect(found.map(([first]) => first)).toEqual(firsts);
      }),
      { seed: 7, numRuns: 500 },
    );
  });

  it('takes the shortest way round', () => {
    const edges = new Map([
      ['a', ['b', 'd']],
      ['b', ['c']],
      ['c', ['a']],
      ['d', ['a']],
    ]);
    expect(graphCycles(edges)).toEqual([['a', 'd']]);
  });

  it('is not limited by the stack', () => {
    const n = 200_000;
    const ring = new Map(Array.from({ length: n }, (_, at) => [String(at), [String((at + 1) % n)]]));
    expect(graphCycles(ring).map((loop) => loop.length)).toEqual([n]);
    ring.set(String(n - 1), []);
    expect(graphCycles(ring)).toEqual([]);
  });
});
