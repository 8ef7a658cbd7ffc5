/** What landing a technique at some rate is worth to the run, and the rate from which trying it pays. */
import type { Baseline } from './baseline.ts';
import type { Constants } from '../constants.ts';
import type { Course, Option } from './course.ts';
import { Probe } from './probe.ts';
import type { Played, RateOf } from './run.ts';
import { segmentsOf } from './touching.ts';
import { tabulate } from '../scale.ts';
import type { RateTable } from '../scale.ts';

/** A technique valued alone against the baseline. */
export interface TechniqueWorth {
  /** Seconds off V over the landing rate in a run; 0 where using it does not pay. */
  readonly saved: RateTable;
  /** Least landing rate in a run at which some use of it pays; null where none does at any rate. */
  readonly breakEven: number | null;
  /** Techniques it shares a spot with, as uses of the route stand. */
  readonly sharesSpotWith: readonly string[];
  /** Items it takes or needs. */
  readonly items: readonly string[];
  /** Items it needs that nothing used now picks up. */
  readonly missingItems: readonly string[];
  /** Whether the route names it only as the backup of other techniques. */
  readonly onlyAsBackup: boolean;
  /** Whether the route has any use of it, or names it as a backup. */
  readonly used: boolean;
}

function involves(option: Option, technique: string): boolean {
  return option.technique === technique || option.backup === technique;
}

/** The usable pick-up of each of several items that costs the run least, as [choice, option]. */
function idlePickUps(
  course: Course,
  items: ReadonlySet<string>,
  allowed: (technique: string) => boolean,
  base: Baseline,
  rateOf: RateOf,
  constants: Constants,
): (readonly [number, number])[] {
  const state = base.state.copy();
  return [...items].flatMap((item) => {
    let best: readonly [number, number] | undefined;
    let least = Infinity;
    course.choices.forEach(({ options }, c) => {
      options.forEach(({ use, technique, backup }, o) => {
        if (use.take !== item || backup !== null || !allowed(technique)) return;
        const played = Int32Array.from(base.played);
        played[c] = o;
        state.refill(played, rateOf);
        // What is seldom picked up costs little and brings little: its cost is that of one item in hand.
        const cost = (state.worth(constants).worth - base.worth) / Math.max(rateOf(technique), 1e-9);
        if (cost < least - 1e-12) [best, least] = [[c, o], cost];
      });
    });
    return best === undefined ? [] : [best];
  });
}

/** Items picked up by what is played. */
function itemsTaken(course: Course, played: Played): Set<string> {
  const taken = new Set<string>();
  course.choices.forEach((choice, c) => {
    const item = choice.options[played[c]!]?.use.take;
    if (item !== undefined) taken.add(item);
  });
  return taken;
}

/**
 * Values one technique against the baseline (which must not use it): at each rate, the drop in V when it is used
 * wherever that lowers V, all else as it is.
 */
export function valueTechnique(
  course: Course,
  technique: string,
  base: Baseline,
  allowed: (technique: string) => boolean,
  rateOf: RateOf,
  constants: Constants,
): TechniqueWorth {
  const usable = (option: Option): boolean =>
    involves(option, technique) &&
    [option.technique, option.backup].every((t) => t === null || t === technique || allowed(t));
  const own: number[] = [];
  const spotMates = new Set<string>();
  const items = new Set<string>();
  const missing = new Set<string>();
  const taken = itemsTaken(course, base.played);
  let named = false;
  let main = false;
  course.choices.forEach((choice, c) => {
    if (!choice.options.some((option) => involves(option, technique))) return;
    named = true;
    if (choice.options.some(usable)) own.push(c);
    if (!choice.options.some((option) => option.technique === technique)) return;
    main = true;
    for (const { use } of choice.options) {
      if (use.technique !== technique) {
        spotMates.add(use.technique);
        continue;
      }
      for (const item of [use.take, use.with]) if (item !== undefined) items.add(item);
      if (use.with !== undefined && !taken.has(use.with)) missing.add(use.with);
    }
  });

  // An item's pick-up that is in the run but not worth its cost today may be once this technique uses it.
  const starts = [base.played];
  const pickUps = idlePickUps(course, missing, allowed, base, rateOf, constants);
  if (pickUps.length > 0) {
    const withItems = Int32Array.from(base.played);
    for (const [choice, option] of pickUps) withItems[choice] = option;
    starts.push(withItems);
    for (const [choice] of pickUps)
      for (const { use } of course.choices[choice]!.options) missing.delete(use.take ?? '');
  }
  const touched = segmentsOf(course, [...own, ...pickUps.map(([choice]) => choice)]);
  const probe = new Probe(course, base.state, touched, technique, rateOf, constants);
  const played = Int32Array.from(base.played);
  const bestFrom = (start: Played): number => {
    played.set(start);
    let best = start === base.played ? base.worth : probe.worth(played);
    // The best single change first, so that the order in which a route lists its uses decides nothing.
    for (let turn = 0; turn < own.length; turn++) {
      let change: readonly [number, number] | undefined;
      for (const c of own) {
        const before = played[c]!;
        course.choices[c]!.options.forEach((option, o) => {
          if (o === before || !usable(option)) return;
          played[c] = o;
          const worth = probe.worth(played);
          if (worth < best) [best, change] = [worth, [c, o]];
        });
        played[c] = before;
      }
      if (change === undefined) break;
      played[change[0]] = change[1];
    }
    return best;
  };
  const savedAt = (at: number): number => {
    probe.setRate(at);
    return Math.max(0, base.worth - Math.min(...starts.map(bestFrom)));
  };

  let breakEven: number | null = null;
  for (const start of starts) {
    for (const c of own) {
      course.choices[c]!.options.forEach((option, o) => {
        if (!usable(option)) return;
        const edge = crossing((at) => {
          probe.setRate(at);
          played.set(start);
          played[c] = o;
          return base.worth - probe.worth(played);
        });
        if (edge !== null) breakEven = Math.min(breakEven ?? 1, edge);
      });
    }
  }
  const nothing = own.length === 0 || breakEven === null;
  return {
    saved: tabulate(nothing ? () => 0 : savedAt, constants.rateFloor),
    breakEven,
    sharesSpotWith: [...spotMates].sort(),
    items: [...items].sort(),
    missingItems: [...missing].sort(),
    used: named,
    onlyAsBackup: named && !main,
  };
}

/** The landing rate at which a rising gain crosses zero: 0 if it never is below, null if it never is above. */
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
  // What halving leaves in the last digits would show where a rate is rounded from the middle, as 31.25 % is.
  return Math.round(((low + high) / 2) * 1e12) / 1e12;
}
