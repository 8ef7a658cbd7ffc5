import highsLoader from 'highs';
import { describe, expect, test } from 'vitest';
import { closedSets } from '../../../../server/src/model/rank/closedSets.ts';
import type { ClosureItem } from '../../../../server/src/model/rank/closedSets.ts';
import { chance } from '../../../arena/random.ts';

const solver = await highsLoader();

/**
 * The best gain per block, given the blocks already made, as one linear program: with y(i, n) for "item i has at
 * least n blocks", a closure is y(i, n) ≤ y(i, n − 1) and y(i, 1) ≤ y(need, ready at); a ratio over a cone is linear
 * once its denominator is set to one (S: Charnes & Cooper 1962), and all its corners are closures.
 * Solved by HiGHS (S: Huangfu & Hall 2018, as the npm package highs).
 *
 * @param most blocks an item may come to
 */
function bestRatio(items: readonly ClosureItem[], base: readonly number[], most: readonly number[]): number {
  const name = (i: number, n: number): string => `y${i}n${n}`;
  const value: string[] = [];
  const spent: string[] = [];
  const rows: string[] = [];
  items.forEach(({ gains, needs }, i) => {
    for (let n = base[i]! + 1; n <= most[i]!; n++) {
      const step = gains[n]! - gains[n - 1]!;
      value.push(`${step < 0 ? '-' : '+'} ${Math.abs(step).toFixed(9)} ${name(i, n)}`);
      spent.push(name(i, n));
      if (n > base[i]! + 1) rows.push(`${name(i, n)} - ${name(i, n - 1)} <= 0`);
    }
    if (base[i]! > 0) return;
    for (const need of needs) {
      const ready = items[need]!.readyAt;
      if (ready === null || ready > most[need]!) rows.push(`${name(i, 1)} <= 0`);
      else if (ready > base[need]!) rows.push(`${name(i, 1)} - ${name(need, ready)} <= 0`);
    }
  });
  if (spent.length === 0) return 0;
  const program = [
    'Maximize',
    ` obj: ${value.join(' ')}`,
    'Subject To',
    ` blocks: ${spent.join(' + ')} = 1`,
    ...rows.map((row, r) => ` r${r}: ${row}`),
    'End',
  ].join('\n');
  const solution = solver.solve(program);
  expect(solution.Status).toBe('Optimal');
  return solution.ObjectiveValue;
}

/** Items with gains that come early, late or with a dip, and needs among those before them. */
function invent(seed: number, count: number): ClosureItem[] {
  const random = chance(seed);
  return Array.from({ length: count }, (_, i): ClosureItem => {
    const blocks = random.whole(4, 10);
    const top = random.between(0, 12);
    const middle = random.between(-1, blocks);
    const sudden = random.between(0.4, 3);
    const at = (n: number): number => top / (1 + Math.exp(-sudden * (n - middle)));
    const gains = Array.from({ length: blocks + 1 }, (_, n) =>
      n === 0 ? 0 : at(n) - at(0) + random.between(-0.3, 0.3),
    );
    const needs = [...new Set(Array.from({ length: 3 }, () => random.whole(0, count - 1)))];
    const readyAt = random.next() < 0.05 ? null : random.whole(0, 6);
    return { gains, needs: needs.filter((need) => need < i && random.next() < 0.5), readyAt };
  });
}

/** Whether all that an item is joined to by needs has been placed: its group is then in order, and done with. */
function settled(items: readonly ClosureItem[], base: readonly number[], from: number): boolean {
  const group = new Set([from]);
  for (const i of group) {
    for (const need of items[i]!.needs) group.add(need);
    items.forEach(({ needs }, j) => {
      if (needs.includes(i)) group.add(j);
    });
  }
  return [...group].every((i) => base[i]! > 0);
}

describe('forty techniques: every set in turn has the best gain per block that the solver finds', () => {
  test.each(Array.from({ length: 12 }, (_, seed) => seed))('instance %i', (seed) => {
    const items = invent(seed, 40);
    const base = items.map(() => 0);
    const sets = closedSets(items, 1);
    for (const set of sets) {
      const most = items.map(({ gains }, i) => (settled(items, base, i) ? base[i]! : gains.length - 1));
      expect(set.rate).toBeCloseTo(bestRatio(items, base, most), 6);
      let [gain, spent] = [0, 0];
      for (const { item, blocks } of [...set.members, ...set.extended]) {
        gain += items[item]!.gains[blocks]! - items[item]!.gains[base[item]!]!;
        spent += blocks - base[item]!;
        base[item] = blocks;
      }
      // The set is worth what it says, and it is closed.
      expect(gain / spent).toBeCloseTo(set.rate, 9);
      for (const { item } of set.members) {
        for (const need of items[item]!.needs) {
          expect(base[need]).toBeGreaterThanOrEqual(items[need]!.readyAt ?? Infinity);
        }
      }
    }
    expect(sets.length).toBeGreaterThan(5);
    // Nothing that is left would gain.
    const most = items.map(({ gains }, i) => (settled(items, base, i) ? base[i]! : gains.length - 1));
    expect(bestRatio(items, base, most)).toBeLessThan(1e-6);
  });
});

test('a set with one technique more or one block less is seen to be worse', () => {
  const items = invent(3, 40);
  const base = items.map(() => 0);
  const most = items.map(({ gains }) => gains.length - 1);
  const [first] = closedSets(items, 1);
  const best = bestRatio(items, base, most);
  const worth = (members: readonly { readonly item: number; readonly blocks: number }[]): number =>
    members.reduce((sum, { item, blocks }) => sum + items[item]!.gains[blocks]!, 0) /
    members.reduce((sum, { blocks }) => sum + blocks, 0);
  const other = items.findIndex(({ needs }, i) => needs.length === 0 && first!.members.every((m) => m.item !== i)); // prettier-ignore
  expect(worth([...first!.members, { item: other, blocks: 1 }])).toBeLessThan(best - 1e-6);
  const [head, ...rest] = first!.members;
  const cut = head!.blocks > 1 ? [{ ...head!, blocks: head!.blocks - 1 }, ...rest] : rest;
  if (cut.length > 0) expect(worth(cut)).toBeLessThan(best - 1e-6);
});
