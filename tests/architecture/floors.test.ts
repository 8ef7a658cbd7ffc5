import { expect, test } from 'vitest';
import { fairestOrder, type Weights } from './floors.ts';

const weightsOf = (...arrows: readonly (readonly [string, string, number])[]): Weights => {
  const weights = new Map<string, Map<string, number>>();
  for (const [from, to, count] of arrows)
    weights.set(from, (weights.get(from) ?? new Map<string, number>()).set(to, count));
  return weights;
};

/** How many imports run up in an order. */
const upIn = (order: readonly string[], weights: Weights): number =>
  [...weights].reduce(
    (sum, [from, row]) =>
      sum +
      [...row].reduce((up, [to, count]) => up + (order.indexOf(to) > order.indexOf(from) ? count : 0), 0),
    0,
  );

test('an order without an arrow up is found where there is one', () => {
  const weights = weightsOf(['a', 'b', 1], ['b', 'c', 5], ['a', 'd', 2], ['d', 'c', 1]);
  const order = fairestOrder(['a', 'b', 'c', 'd'], weights);
  expect(upIn(order, weights)).toBe(0);
  expect(order[0]).toBe('c');
  expect(order[3]).toBe('a');
});

test('no other order of six rooms that import each other has fewer arrows up', () => {
  const rooms = [...'abcdef'];
  const arrows = rooms.flatMap((from, i) =>
    rooms.map((to, j) => [from, to, (7 * i + 11 * j + i * j) % 13] as const),
  );
  const weights = weightsOf(...arrows.filter(([from, to]) => from !== to));
  const orders = (left: readonly string[]): string[][] =>
    left.length === 0
      ? [[]]
      : left.flatMap((room) => orders(left.filter((other) => other !== room)).map((rest) => [room, ...rest]));
  const all = orders(rooms).map((order) => upIn(order, weights));
  expect(all).toHaveLength(720);
  expect(Math.min(...all)).toBeGreaterThan(0);
  expect(upIn(fairestOrder(rooms, weights), weights)).toBe(Math.min(...all));
});
