/**
 * Expected seconds and survival of the segments of a run in which given options are played.
 *
 * Segments that no item ties together are independent of one another. Where an item that is picked up in one place
 * opens a use in another, chances are kept for each set of held items: a run that survived a use which can end it
 * more likely did not hold what the use needs, and a finished run more likely missed the item than a started one.
 */
import type { AverageEffect } from './averageEffect.ts';
import type { RouteLayout } from './routeLayout.ts';
import { RoughItems } from './trackedItems.ts';

/** For each choice the number of the option played, or -1 for the safe way. */
export type ChosenOptions = Int32Array;

/** Numbers of every segment, by its place in the route. */
export interface SegmentNumbers {
  /** Expected seconds in a run that is finished. */
  readonly seconds: Float64Array;
  /** Chance that a run that reaches the segment survives it. */
  readonly survival: Float64Array;
  /** Expected clock seconds of a run that reaches the segment; one that ends in it takes half of its time. */
  readonly clock: Float64Array;
}

/** The effect of an option of a choice. */
type EffectAt = (choice: number, option: number) => AverageEffect;

/**
 * Expected clock time in a segment for a run that reaches it. A run that ends in the segment takes half of its
 * time.
 *
 * @example
 * expectedClockTime(60, 0.5) // 45
 */
export function expectedClockTime(seconds: number, survival: number): number {
  return (seconds * (1 + survival)) / 2;
}

/**
 * Computes the numbers of the given segments and puts them `into` their places.
 *
 * @param segments numbers of segments in rising order. If an item is taken or needed in one of them, the list
 * contains every segment in which that item is taken or needed.
 */
export function playSegments(
  layout: RouteLayout,
  segments: readonly number[],
  played: ChosenOptions,
  effectAt: EffectAt,
  into: SegmentNumbers,
): void {
  const tied = segments.filter((s) => layout.tied[s]);
  const opened = tied.some((s) =>
    layout.choicesInSegment[s]!.some((c) => layout.choices[c]!.options[played[c]!]?.use.with !== undefined),
  );
  for (const s of segments) if (!opened || !layout.tied[s]) playAlone(layout, s, played, effectAt, into);
  if (opened) playTied(layout, tied, played, effectAt, into);
}

/** A segment in which no use that needs an item is played. */
function playAlone(
  layout: RouteLayout,
  s: number,
  played: ChosenOptions,
  effectAt: EffectAt,
  into: SegmentNumbers,
): void {
  let seconds = layout.times[s]!;
  let survival = layout.survival[s]!;
  for (const choice of layout.choicesInSegment[s] ?? []) {
    const number = played[choice]!;
    if (layout.choices[choice]?.options[number] === undefined) continue;
    const effect = effectAt(choice, number);
    seconds -= effect.seconds;
    survival *= effect.survival;
  }
  into.seconds[s] = seconds;
  into.survival[s] = survival;
  into.clock[s] = expectedClockTime(seconds, survival);
}

/** One use that is tried where its item is held: chances and chance-weighted seconds, of landing and of the rest. */
interface ItemStep {
  readonly needs: number;
  readonly gives: number;
  readonly lands: number;
  readonly landedSeconds: number;
  readonly misses: number;
  readonly missedSeconds: number;
  /** Chance of each set of items before it, in a run that reaches its segment. */
  readonly before: Float64Array;
}

function stepsOf(
  layout: RouteLayout,
  s: number,
  played: ChosenOptions,
  effectAt: EffectAt,
  rough: RoughItems,
): ItemStep[] {
  const { bits, sets } = layout.items;
  return layout.choicesInSegment[s]!.flatMap((choice) => {
    const number = played[choice]!;
    const use = layout.choices[choice]!.options[number]?.use;
    if (use === undefined) return [];
    const effect = effectAt(choice, number);
    const open = rough.chanceOpen(use.with);
    rough.survive(use, open, effect);
    return {
      needs: use.with === undefined ? 0 : (bits.get(use.with) ?? 0),
      gives: use.take === undefined ? 0 : (bits.get(use.take) ?? 0),
      lands: open * effect.lands,
      landedSeconds: open * effect.landedSeconds,
      misses: open * (effect.survival - effect.lands) + (1 - open),
      missedSeconds: open * (effect.survival * effect.seconds - effect.landedSeconds),
      before: new Float64Array(sets),
    };
  });
}

/** A tied segment on the way forward. */
interface TiedSegment {
  readonly s: number;
  readonly steps: readonly ItemStep[];
  /** Chance of each set of items at its start, in a run that reaches it. */
  readonly start: Float64Array;
}

function playTied(
  layout: RouteLayout,
  segments: readonly number[],
  played: ChosenOptions,
  effectAt: EffectAt,
  into: SegmentNumbers,
): void {
  const { sets, kept } = layout.items;
  const rough = new RoughItems(layout.items);
  let start = new Float64Array(sets);
  start[0] = 1;
  const forward: TiedSegment[] = [];
  for (const s of segments) {
    const segment = { s, steps: stepsOf(layout, s, played, effectAt, rough), start };
    forward.push(segment);
    const { after, clock } = throughTied(layout, segment);
    let lives = 0;
    for (const chance of after) lives += chance;
    into.survival[s] = layout.survival[s]! * lives;
    into.clock[s] = clock;
    start = new Float64Array(sets);
    if (lives > 0) for (let set = 0; set < sets; set++) start[set & kept[s]!]! += after[set]! / lives;
    else start[0] = 1;
  }
  let finishes = new Float64Array(sets).fill(1);
  for (const segment of forward.reverse()) {
    finishes = finishes.map((_, set) => finishes[set & kept[segment.s]!]!);
    const saved = savedInFinished(segment, finishes);
    into.seconds[segment.s] = layout.times[segment.s]! - saved;
  }
}

/** The chance of each set of items after the segment, and its expected clock seconds, in a run that reaches it. */
function throughTied(
  layout: RouteLayout,
  { s, steps, start }: TiedSegment,
): { after: Float64Array; clock: number } {
  const { sets } = layout.items;
  const after = new Float64Array(sets);
  let clock = 0;
  for (let from = 0; from < sets; from++) {
    const reached = start[from]!;
    if (reached === 0) continue;
    let chances = new Float64Array(sets);
    let seconds = new Float64Array(sets);
    chances[from] = 1;
    seconds[from] = layout.times[s]!;
    for (const { needs, gives, lands, landedSeconds, misses, missedSeconds, before } of steps) {
      const nextChances = new Float64Array(sets);
      const nextSeconds = new Float64Array(sets);
      for (let set = 0; set < sets; set++) {
        const chance = chances[set]!;
        if (chance === 0) continue;
        before[set]! += reached * chance;
        if ((set & needs) !== needs) {
          nextChances[set]! += chance;
          nextSeconds[set]! += seconds[set]!;
          continue;
        }
        nextChances[set | gives]! += chance * lands;
        nextSeconds[set | gives]! += seconds[set]! * lands - chance * landedSeconds;
        nextChances[set]! += chance * misses;
        nextSeconds[set]! += seconds[set]! * misses - chance * missedSeconds;
      }
      chances = nextChances;
      seconds = nextSeconds;
    }
    let lives = 0;
    let spent = 0;
    for (let set = 0; set < sets; set++) {
      lives += chances[set]!;
      spent += seconds[set]!;
      after[set]! += reached * chances[set]!;
    }
    const mean = lives > 0 ? spent / lives : layout.times[s]!;
    clock += reached * expectedClockTime(mean, lives * layout.survival[s]!);
  }
  return { after, clock };
}

/**
 * Expected seconds saved in the segment by a run that is finished.
 *
 * @param finishes chance, from the end of the segment with each set of items, to survive the later uses; changed in
 * place to the chance from its start
 */
function savedInFinished({ steps, start }: TiedSegment, finishes: Float64Array): number {
  let saved = 0;
  for (let i = steps.length - 1; i >= 0; i--) {
    const { needs, gives, lands, landedSeconds, misses, missedSeconds, before } = steps[i]!;
    const later = Float64Array.from(finishes);
    for (let set = 0; set < later.length; set++) {
      if ((set & needs) !== needs) continue;
      const [landed, missed] = [later[set | gives]!, later[set]!];
      saved += before[set]! * (landedSeconds * landed + missedSeconds * missed);
      finishes[set] = lands * landed + misses * missed;
    }
  }
  let finished = 0;
  for (let set = 0; set < start.length; set++) finished += start[set]! * finishes[set]!;
  return finished > 0 ? saved / finished : 0;
}
