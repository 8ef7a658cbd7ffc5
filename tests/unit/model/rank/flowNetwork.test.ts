import fc from 'fast-check';
import { expect, test } from 'vitest';
import { FlowNetwork } from '../../../../server/src/model/rank/flowNetwork.ts';

const arcs = fc.array(
  fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 9 })),
  { maxLength: 18 },
);

/** Capacity that leaves a set of nodes. */
function cut(
  list: readonly (readonly [number, number, number])[],
  inside: (node: number) => boolean,
): number {
  return list.reduce((sum, [a, b, room]) => sum + (inside(a) && !inside(b) ? room : 0), 0);
}

test('the source side is a minimum cut, and the smallest, against trying every set', () => {
  fc.assert(
    fc.property(arcs, (list) => {
      const network = new FlowNetwork(6);
      for (const [a, b, room] of list) network.addArc(a, b, room);
      const side = network.minCutSourceSide(0, 5, 0);
      const found = cut(list, (node) => side[node] === true);
      let least = Infinity;
      for (let set = 0; set < 32; set++) {
        if ((set & 1) === 0) continue;
        const inside = (node: number): boolean => node < 5 && ((set >> node) & 1) === 1;
        const value = cut(list, inside);
        least = Math.min(least, value);
        if (value === found)
          for (let node = 0; node < 5; node++) if (side[node]) expect(inside(node)).toBe(true);
      }
      expect(found).toBe(least);
    }),
  );
});
