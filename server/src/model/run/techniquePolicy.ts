/** How a run is played when one more technique may be tried in it, and the landing rate above which trying it pays. */
import type { Baseline } from './baseline.ts';
import type { Constants } from '../core/constants.ts';
import type { RouteLayout, PlayOption } from './routeLayout.ts';
import { RunWorthEvaluator } from './runWorthEvaluator.ts';
import type { ChosenOptions } from './playSegments.ts';
import type { LandingRateOf } from './runState.ts';
import { choicesOfTechnique, affectedSegments } from './affectedSegments.ts';

/** How one technique is played, compared with a baseline that does not use it. */
export interface TechniquePolicy {
  /** Choices that may be played differently from the baseline. */
  readonly openChoices: readonly number[];
  /** Items it needs that no technique of the baseline and no other allowed technique picks up. */
  readonly missingItems: readonly string[];
  /** Smallest landing rate in a run at which some use of it pays; null if no use pays at any rate. */
  readonly breakEven: number | null;
  /** V in seconds when the technique lands at this rate and is used wherever that lowers V. */
  readonly worthAt: (rate: number) => number;
  /** The options played at that rate. */
  readonly optionsAt: (rate: number) => ChosenOptions;
}

/**
 * Whether a worth is lower than another by more than rounding. A use whose item nobody picks up changes nothing, and
 * must not be taken for an improvement.
 */
function isLower(worth: number, than: number): boolean {
  return worth < than - 1e-12 * Math.max(1, Math.abs(than));
}

/** For each item, the allowed way to pick it up that costs the run least, as [choice, option]. */
function idlePickUps(
  layout: RouteLayout,
  items: ReadonlySet<string>,
  allowed: (technique: string) => boolean,
  base: Baseline,
  rateOf: LandingRateOf,
  constants: Constants,
): (readonly [number, number])[] {
  const state = base.state.copy();
  return [...items].flatMap((item) => {
    let best: readonly [number, number] | undefined;
    let least = Infinity;
    layout.choices.forEach(({ options }, c) => {
      options.forEach(({ use, technique, backup }, o) => {
        if (use.take !== item || backup !== null || !allowed(technique)) return;
        const played = Int32Array.from(base.played);
        played[c] = o;
        state.recompute(played, rateOf);
        // A pick-up that rarely lands costs little but also rarely gives the item, so costs are compared per
        // picked-up item.
        const cost = (state.worth(constants).worth - base.worth) / Math.max(rateOf(technique), 1e-9);
        if (cost < least - 1e-12) [best, least] = [[c, o], cost];
      });
    });
    return best === undefined ? [] : [best];
  });
}

/** The items that the played options pick up. */
function itemsTaken(layout: RouteLayout, played: ChosenOptions): Set<string> {
  const taken = new Set<string>();
  layout.choices.forEach((choice, c) => {
    const item = choice.options[played[c]!]?.use.take;
    if (item !== undefined) taken.add(item);
  });
  return taken;
}

/**
 * Finds how the run is played at each landing rate of `technique`: the technique is used wherever that lowers V,
 * and an item that it needs is picked up where that is worth its cost. All other choices stay as in the baseline.
 */
export function buildTechniquePolicy(
  layout: RouteLayout,
  technique: string,
  base: Baseline,
  allowed: (technique: string) => boolean,
  rateOf: LandingRateOf,
  constants: Constants,
): TechniquePolicy {
  const usable = ({ technique: main, backup }: PlayOption): boolean =>
    (main === technique || backup === technique) &&
    [main, backup].every((t) => t === null || t === technique || allowed(t));
  const optionsOf = (c: number): readonly PlayOption[] => layout.choices[c]!.options;
  const own = choicesOfTechnique(layout, technique).filter((c) => optionsOf(c).some(usable));
  const taken = itemsTaken(layout, base.played);
  const missing = new Set<string>();
  for (const c of choicesOfTechnique(layout, technique))
    for (const { use } of optionsOf(c))
      if (use.technique === technique && use.with !== undefined && !taken.has(use.with))
        missing.add(use.with);

  // Picking up an item may not be worth its cost in the baseline, but it may be once this technique uses the item.
  const starts = [base.played];
  const pickUps = idlePickUps(layout, missing, allowed, base, rateOf, constants);
  if (pickUps.length > 0) {
    const withItems = Int32Array.from(base.played);
    for (const [choice, option] of pickUps) withItems[choice] = option;
    starts.push(withItems);
    for (const [choice] of pickUps) for (const { use } of optionsOf(choice)) missing.delete(use.take ?? '');
  }
  const open = [...new Set([...own, ...pickUps.map(([choice]) => choice)])];
  const probe = new RunWorthEvaluator(
    layout,
    base.state,
    affectedSegments(layout, open),
    technique,
    rateOf,
    constants,
  );

  /** Improves `played` (in place) by single changes until none lowers V, and returns the worth reached. */
  const climb = (played: Int32Array): number => {
    let best = probe.worth(played);
    // Always makes the best single change, so that the order of uses in the route does not affect the result.
    for (let turn = 0; turn < own.length; turn++) {
      let change: readonly [number, number] | undefined;
      if (own.length > 1) probe.holdOthers(played);
      for (const c of own) {
        const before = played[c]!;
        const { segment } = layout.choices[c]!;
        optionsOf(c).forEach((option, o) => {
          if (o === before || !usable(option)) return;
          played[c] = o;
          const worth = own.length > 1 ? probe.worthChangedIn(segment, played) : probe.worth(played);
          if (isLower(worth, best)) [best, change] = [worth, [c, o]];
        });
        played[c] = before;
      }
      if (change === undefined) break;
      played[change[0]] = change[1];
      best = probe.worth(played);
    }
    return best;
  };
  const buffers = starts.map((start) => Int32Array.from(start));
  const bestAt = (rate: number): { played: Int32Array; worth: number } => {
    probe.setRate(rate);
    let best = { played: base.played, worth: base.worth };
    starts.forEach((start, i) => {
      const played = buffers[i]!;
      played.set(start);
      const worth = climb(played);
      if (isLower(worth, best.worth)) best = { played, worth };
    });
    return best;
  };

  let breakEven: number | null = null;
  for (const start of starts) {
    // No start plays the technique, so its rate changes nothing in the other segments.
    probe.holdOthers(start);
    const played = Int32Array.from(start);
    for (const c of own) {
      const { segment } = layout.choices[c]!;
      optionsOf(c).forEach((option, o) => {
        if (!usable(option)) return;
        played[c] = o;
        const edge = crossing((rate) => {
          probe.setRateIn(c, rate);
          return base.worth - probe.worthChangedIn(segment, played);
        });
        if (edge !== null) breakEven = Math.min(breakEven ?? 1, edge);
      });
      played[c] = start[c]!;
    }
  }
  // Below the rate from which a single use pays, no use is ever begun; with an item to pick up first, two may pay together.
  const paysFrom = starts.length > 1 ? 0 : (breakEven ?? Infinity);
  return {
    openChoices: open,
    missingItems: [...missing].sort(),
    breakEven,
    worthAt: (rate) => (rate < paysFrom ? base.worth : bestAt(rate).worth),
    optionsAt: (rate) => Int32Array.from(bestAt(rate).played),
  };
}

/**
 * The landing rate at which a rising gain crosses zero: 0 if the gain is never below zero, null if it is never
 * above.
 */
function crossing(gain: (rate: number) => number): number | null {
  if (!(gain(1) > 1e-9)) return null;
  if (gain(0) >= 0) return 0;
  let low = 0;
  let high = 1;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (gain(middle) > 0) high = middle;
    else low = middle;
  }
  // Removes the error that bisection leaves in the last digits; it could change how a rate such as 31.25 % is
  // rounded for display.
  return Math.round(((low + high) / 2) * 1e12) / 1e12;
}
