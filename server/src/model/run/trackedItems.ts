/**
 * Gives each item of a route a bit, so that a set of held items is one number.
 *
 * An item is held only if its technique landed, and uses that need it are tried only then. So chances are kept
 * separately for each set of held items, for up to {@link maxTrackedItems} items at the same time. Items beyond that
 * number (no known route has so many) count as held with an independent chance.
 */
import type { UseModel } from '../core/types.ts';

/** The part of a choice that says which items it takes and needs. */
interface ItemChoice {
  readonly segment: number;
  readonly options: readonly { readonly use: Pick<UseModel, 'take' | 'with'> }[];
}

export interface TrackedItems {
  /** The bit of each item that is tracked. */
  readonly bits: ReadonlyMap<string, number>;
  /** Items that are not tracked; they count as held with an independent chance. */
  readonly rough: readonly string[];
  /** For each segment, the bits of the items that are needed in a later segment. */
  readonly kept: readonly number[];
  /** Number of sets of items: 1 more than the greatest set. */
  readonly sets: number;
}

/** Largest number of items held at the same time that are tracked exactly. */
export const maxTrackedItems = 6;

/**
 * Assigns a bit to each item that is picked up and needed later or in the same segment. A bit is used again after
 * the last segment that picks up or needs its item.
 */
export function trackItems(choices: readonly ItemChoice[], segments: number): TrackedItems {
  const first = new Map<string, number>();
  const lastUse = new Map<string, number>();
  const lastTake = new Map<string, number>();
  for (const { segment, options } of choices) {
    for (const { use } of options) {
      if (use.take !== undefined) {
        if (!first.has(use.take)) first.set(use.take, segment);
        lastTake.set(use.take, segment);
      }
      if (use.with !== undefined) lastUse.set(use.with, segment);
    }
  }
  const bits = new Map<string, number>();
  const busyUntil = new Array<number>(maxTrackedItems).fill(-1);
  const rough: string[] = [];
  for (const [item, from] of first) {
    const until = lastUse.get(item);
    if (until === undefined || until < from) continue;
    const free = busyUntil.findIndex((busy) => busy < from);
    if (free < 0) rough.push(item);
    else {
      busyUntil[free] = Math.max(until, lastTake.get(item) ?? until);
      bits.set(item, 1 << free);
    }
  }
  const kept = Array.from({ length: segments }, (_, s) => {
    let all = 0;
    for (const [item, bit] of bits) if (first.get(item)! <= s && lastUse.get(item)! > s) all |= bit;
    return all;
  });
  let used = 0;
  for (const bit of bits.values()) used |= bit;
  return { bits, rough, kept, sets: used + 1 };
}

/** Chances that the items which are not tracked are held, as if they were independent of everything else. */
export class RoughItems {
  private readonly items: TrackedItems;
  private readonly held = new Map<string, number>();

  constructor(items: TrackedItems) {
    this.items = items;
  }

  /**
   * The chance that a use which needs `item` can be tried as far as items that are not tracked decide it; 1 for an
   * item that is tracked or for none, 0 for one that nothing picks up before.
   */
  chanceOpen(item: string | undefined): number {
    if (item === undefined || this.items.bits.has(item)) return 1;
    return this.held.get(item) ?? 0;
  }

  /**
   * Takes in a use that was reached and survived.
   *
   * @param open what {@link chanceOpen} said of it
   * @param effect its chances to survive and to land where it is tried
   */
  survive(
    use: { readonly take?: string; readonly with?: string },
    open: number,
    effect: { readonly survival: number; readonly lands: number },
  ): void {
    const { bits, rough } = this.items;
    if (rough.length === 0) return;
    const lives = 1 - open * (1 - effect.survival);
    if (!(lives > 0)) return;
    // Who survived a use that can end the run more likely did not hold what it needs.
    if (use.with !== undefined && !bits.has(use.with))
      this.held.set(use.with, (open * effect.survival) / lives);
    if (use.take === undefined || !rough.includes(use.take)) return;
    const landed = (open * effect.lands) / lives;
    this.held.set(use.take, 1 - (1 - (this.held.get(use.take) ?? 0)) * (1 - landed));
  }
}
