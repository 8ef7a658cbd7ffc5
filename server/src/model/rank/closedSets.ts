/**
 * Finds the best set of techniques to practise first, needs included: the set with the greatest gain per hour. This
 * is a maximum-ratio closure (Sidney 1975), found exactly by minimum cuts at a price per hour that is raised until
 * no set is worth more than its price (Dinkelbach 1967). Removing that set and repeating gives the order.
 */
import { FlowNetwork } from './flowNetwork.ts';

/** A technique in the closure problem. */
export interface ClosureItem {
  /** Gain in seconds after n blocks, n from 0; gains[0] is 0. */
  readonly gains: ArrayLike<number>;
  /** Numbers of the items that must be ready before this one is practised. */
  readonly needs: readonly number[];
  /** Fewest blocks until this one is ready for the items that need it; null if that is beyond the horizon. */
  readonly readyAt: number | null;
}

/** One of the sets, in the order of practice. */
export interface ClosedSet {
  /** Items first practised in this set, with the blocks each has after it. */
  readonly members: readonly { readonly item: number; readonly blocks: number }[];
  /** Items of earlier sets that get further blocks here, with the blocks each has after it. */
  readonly extended: readonly { readonly item: number; readonly blocks: number }[];
  /** Gain per hour of the set as a whole. */
  readonly rate: number;
}

/** Gains whose difference, relative to the greatest gain, is below this count as equal. */
const tolerance = 1e-12;
const maxRounds = 60;

interface StoppingPoint {
  blocks: number;
  value: number;
}

/**
 * The best number of blocks, at least `least`, at a price per block. `base` blocks are already practised and not
 * counted.
 */
function bestStoppingPoint(item: ClosureItem, base: number, least: number, price: number): StoppingPoint {
  let best: StoppingPoint = { blocks: -1, value: -Infinity };
  for (let n = Math.max(base, least); n < item.gains.length; n++) {
    const value = item.gains[n]! - item.gains[base]! - price * (n - base);
    if (value > best.value) best = { blocks: n, value };
  }
  return best;
}

/** The closure with the greatest value at a price per block: the blocks of each item, -1 if the item is not in it. */
function closureAt(items: readonly ClosureItem[], base: readonly number[], price: number): Int32Array {
  const count = items.length;
  const needed = items.map(() => false);
  items.forEach((item, i) => {
    // The needs of an item that has been practised are met already.
    if (base[i] === 0) for (const need of item.needs) needed[need] = true;
  });
  const source = 2 * count;
  const sink = source + 1;
  const network = new FlowNetwork(sink + 1);
  const weigh = (node: number, weight: number): void => {
    if (weight > 0) network.addArc(source, node, weight);
    else if (weight < 0) network.addArc(node, sink, -weight);
  };
  const free: StoppingPoint[] = [];
  const ready: (StoppingPoint | null)[] = [];
  let greatest = 0;
  items.forEach((item, i) => {
    const stop = bestStoppingPoint(item, base[i]!, base[i]!, price);
    free.push(stop);
    weigh(i, stop.value);
    greatest = Math.max(greatest, Math.abs(stop.value));
    const mustBeReady = needed[i] === true && item.readyAt !== null && item.readyAt > base[i]!;
    ready.push(mustBeReady ? bestStoppingPoint(item, base[i]!, item.readyAt ?? 0, price) : null);
    const whenReady = ready[i];
    if (whenReady !== null && whenReady !== undefined) {
      network.addArc(count + i, i, Infinity);
      weigh(count + i, whenReady.value - stop.value);
    }
    if (base[i] !== 0) return;
    for (const need of item.needs) {
      const other = items[need];
      if (other?.readyAt === null) weigh(i, -1e15);
      else if (other !== undefined && other.readyAt > base[need]!) network.addArc(i, count + need, Infinity);
    }
  });
  const chosen = network.minCutSourceSide(source, sink, tolerance * Math.max(greatest, 1e-300));
  return Int32Array.from(items, (_, i) => {
    if (chosen[count + i] === true && ready[i] !== null) return ready[i]!.blocks;
    return chosen[i] === true && free[i]!.blocks > base[i]! ? free[i]!.blocks : -1;
  });
}

function totals(items: readonly ClosureItem[], base: readonly number[], blocks: Int32Array) {
  let gain = 0;
  let spent = 0;
  blocks.forEach((n, i) => {
    if (n <= base[i]!) return;
    gain += items[i]!.gains[n]! - items[i]!.gains[base[i]!]!;
    spent += n - base[i]!;
  });
  return { gain, spent };
}

/** The set with the greatest gain per block, given the blocks already practised; null if no practice gains anything. */
function bestRatioSet(
  items: readonly ClosureItem[],
  base: readonly number[],
): { blocks: Int32Array; rate: number } | null {
  let best: { blocks: Int32Array; rate: number } | null = null;
  for (let round = 0; round < maxRounds; round++) {
    const blocks = closureAt(items, base, best?.rate ?? 0);
    const { gain, spent } = totals(items, base, blocks);
    if (spent === 0 || !(gain / spent > (best?.rate ?? 0) * (1 + 1e-12))) break;
    best = { blocks, rate: gain / spent };
  }
  return best;
}

/** Groups of items that are connected by needs, each in rising order. */
function connectedComponents(items: readonly ClosureItem[]): number[][] {
  const leader = items.map((_, i) => i);
  const find = (i: number): number => {
    let at = i;
    while (leader[at] !== at) at = leader[at]!;
    return at;
  };
  items.forEach((item, i) => {
    for (const need of item.needs) {
      const [a, b] = [find(i), find(need)];
      if (a !== b) leader[Math.max(a, b)] = Math.min(a, b);
    }
  });
  const byLeader = new Map<number, number[]>();
  items.forEach((_, i) => {
    const key = find(i);
    byLeader.set(key, [...(byLeader.get(key) ?? []), i]);
  });
  return [...byLeader.values()];
}

/** Largest number of sets in one group; far more than its items can need. */
const maxSets = 2000;

/** Part of a closure problem that is connected by needs, with the numbers of its items in the whole. */
interface Component {
  readonly numbers: readonly number[];
  readonly items: readonly ClosureItem[];
}

function componentsOf(items: readonly ClosureItem[]): Component[] {
  return connectedComponents(items).map((numbers) => {
    const place = new Map(numbers.map((n, i) => [n, i]));
    const own = numbers.map((n): ClosureItem => {
      const item = items[n]!;
      return { ...item, needs: item.needs.map((need) => place.get(need)!) };
    });
    return { numbers, items: own };
  });
}

/** The sets of one component in order, found one by one. */
function* orderComponent({ numbers, items: own }: Component, blockHours: number): Generator<ClosedSet, void> {
  const base = own.map(() => 0);
  let left = own.length;
  let lowest = Infinity;
  for (let found = 0; left > 0 && found < maxSets; found++) {
    const best = bestRatioSet(own, base);
    if (best === null) break;
    const members: { item: number; blocks: number }[] = [];
    const extended: { item: number; blocks: number }[] = [];
    best.blocks.forEach((blocks, i) => {
      if (blocks <= base[i]!) return;
      (base[i] === 0 ? members : extended).push({ item: numbers[i]!, blocks });
      if (base[i] === 0) left--;
      base[i] = blocks;
    });
    // With exact arithmetic the rates of one group never rise; rounding errors must not change the order.
    lowest = Math.min(best.rate / blockHours, lowest);
    yield { members, extended, rate: lowest };
  }
}

/**
 * All sets in order, best gain per hour first. `blockHours` is the length of a block. Items whose practice gains
 * nothing and that no useful item needs are in no set. Sets with equal rates keep the order of the given items.
 */
export function closedSets(items: readonly ClosureItem[], blockHours: number): ClosedSet[] {
  const placed = componentsOf(items).flatMap((component, group) =>
    [...orderComponent(component, blockHours)].map((set, turn) => ({ set, group, turn })),
  );
  placed.sort((a, b) => b.set.rate - a.set.rate || a.group - b.group || a.turn - b.turn);
  return placed.map(({ set }) => set);
}

/** The first of {@link closedSets}, without the work for the others; null if there is none. */
export function firstClosedSet(items: readonly ClosureItem[], blockHours: number): ClosedSet | null {
  let best: ClosedSet | null = null;
  for (const component of componentsOf(items)) {
    const [first] = orderComponent(component, blockHours);
    if (first !== undefined && first.rate > (best?.rate ?? -Infinity)) best = first;
  }
  return best;
}
