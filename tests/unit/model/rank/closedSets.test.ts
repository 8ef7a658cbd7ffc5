import fc from 'fast-check';
import { expect, test } from 'vitest';
import { closedSets } from '../../../../server/src/model/rank/closedSets.ts';
import type { ClosedSet, ClosureItem } from '../../../../server/src/model/rank/closedSets.ts';

/** The best gain per block over every choice of blocks that meets all needs, by trying them all. */
function exhaustive(items: readonly ClosureItem[], base: readonly number[]): number {
  let best = 0;
  const blocks = [...base];
  const visit = (i: number): void => {
    if (i < items.length) {
      for (let n = base[i]!; n < items[i]!.gains.length; n++) {
        blocks[i] = n;
        visit(i + 1);
      }
      blocks[i] = base[i]!;
      return;
    }
    let gain = 0;
    let spent = 0;
    for (let j = 0; j < items.length; j++) {
      if (blocks[j]! > 0 && items[j]!.needs.some((need) => blocks[need]! < items[need]!.readyAt!)) return;
      gain += items[j]!.gains[blocks[j]!]! - items[j]!.gains[base[j]!]!;
      spent += blocks[j]! - base[j]!;
    }
    if (spent > 0) best = Math.max(best, gain / spent);
  };
  visit(0);
  return best;
}

/** Whether all that is joined to an item by needs has been placed: then its group is in order and closed. */
function settled(items: readonly ClosureItem[], base: readonly number[], from: number): boolean {
  const group = new Set([from]);
  for (const i of group) {
    for (const need of items[i]!.needs) group.add(need);
    items.forEach((other, j) => {
      if (other.needs.includes(i)) group.add(j);
    });
  }
  return [...group].every((i) => base[i]! > 0);
}

const gains = fc
  .array(fc.integer({ min: 0, max: 9 }), { minLength: 3, maxLength: 3 })
  .map((steps) => steps.reduce<number[]>((sums, step) => [...sums, sums.at(-1)! + step], [0]));

const graphs = fc.integer({ min: 1, max: 5 }).chain((count) =>
  fc.tuple(
    ...Array.from({ length: count }, (_, i) =>
      fc.record({
        gains,
        readyAt: fc.integer({ min: 0, max: 3 }),
        needs: fc.subarray(Array.from({ length: i }, (_, j) => j)),
      }),
    ),
  ),
);

test('every set in turn has the best gain per block there is, against exhaustive search', () => {
  fc.assert(
    fc.property(graphs, (items) => {
      const base = items.map(() => 0);
      for (const set of closedSets(items, 1)) {
        const open = items.map((item, i) =>
          settled(items, base, i) ? { ...item, gains: Array.from(item.gains).slice(0, base[i]! + 1) } : item,
        );
        expect(set.rate).toBeCloseTo(exhaustive(open, base), 9);
        let gain = 0;
        let spent = 0;
        for (const { item, blocks } of [...set.members, ...set.extended]) {
          expect(blocks).toBeGreaterThan(base[item]!);
          gain += items[item]!.gains[blocks]! - items[item]!.gains[base[item]!]!;
          spent += blocks - base[item]!;
          base[item] = blocks;
        }
        expect(gain / spent).toBeCloseTo(set.rate, 9);
        for (const { item } of set.members) {
          for (const need of items[item]!.needs) {
            expect(base[need]).toBeGreaterThanOrEqual(items[need]!.readyAt);
          }
        }
      }
    }),
    { numRuns: 150 },
  );
});

test('a worthless technique that opens a good one is practised with it', () => {
  const items: ClosureItem[] = [
    { gains: [0, 0, 0], needs: [], readyAt: 2 },
    { gains: [0, 12, 13], needs: [0], readyAt: null },
    { gains: [0, 3, 4], needs: [], readyAt: null },
  ];
  const sets = closedSets(items, 0.5);
  expect(sets).toEqual<ClosedSet[]>([
    { members: [{ item: 0, blocks: 2 }, { item: 1, blocks: 1 }], extended: [], rate: 8 }, // prettier-ignore
    { members: [{ item: 2, blocks: 1 }], extended: [], rate: 6 },
  ]);
});

test('a need that is ready already asks for nothing', () => {
  const items: ClosureItem[] = [
    { gains: [0, 0], needs: [], readyAt: 0 },
    { gains: [0, 5], needs: [0], readyAt: null },
  ];
  expect(closedSets(items, 1).map((set) => set.members)).toEqual([[{ item: 1, blocks: 1 }]]);
});

test('what gains nothing and opens nothing is in no set', () => {
  expect(closedSets([{ gains: [0, 0, 0], needs: [], readyAt: null }], 1)).toEqual([]);
});

test('a technique practised early is taken further when something later needs it', () => {
  const items: ClosureItem[] = [
    { gains: [0, 10, 10.1, 10.2], needs: [], readyAt: 3 },
    { gains: [0, 6], needs: [0], readyAt: null },
  ];
  const sets = closedSets(items, 1);
  expect(sets[0]!.members).toEqual([{ item: 0, blocks: 1 }]);
  expect(sets[1]).toMatchObject({ members: [{ item: 1, blocks: 1 }], extended: [{ item: 0, blocks: 3 }] });
});
