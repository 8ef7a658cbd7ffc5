/** How a run is played once one technique more may be tried in it. */
import type { Baseline } from './baseline.ts';
import type { Constants } from '../constants.ts';
import type { Course, Option } from './course.ts';
import { choicesOf, segmentsOf } from './touching.ts';
import type { Played, RateOf } from './run.ts';

/** The player of one technique against a baseline that does not use it. */
export interface Player {
  /** Choices that may be played otherwise than in the baseline. */
  readonly open: readonly number[];
  /** What is played when the technique lands at this rate: everywhere what lowers V most. */
  readonly playedAt: (rate: number) => Played;
}

/**
 * Settles how the run is played at each landing rate of `technique`: it is used wherever that lowers V, and an item
 * that it needs is picked up where that pays for itself. All other choices stay as in the baseline.
 */
export function playerOf(
  course: Course,
  technique: string,
  base: Baseline,
  allowed: (technique: string) => boolean,
  rateOf: RateOf,
  constants: Constants,
): Player {
  const usable = ({ technique: own, backup }: Option): boolean =>
    [own, backup].every((t) => t === null || t === technique || allowed(t));
  const own = choicesOf(course, technique);
  const items = new Set(
    own.flatMap((c) => course.choices[c]!.options.flatMap((o) => (usable(o) ? (o.use.with ?? []) : []))),
  );
  const pickUps = [...course.choices.keys()].filter(
    (c) =>
      !own.includes(c) &&
      course.choices[c]!.options.some((o) => usable(o) && o.use.take !== undefined && items.has(o.use.take)),
  );
  const open = [...own, ...pickUps];
  const segments = segmentsOf(course, open);
  const state = base.state.copy();
  const playedAt = (rate: number): Played => {
    const rates: RateOf = (t) => (t === technique ? rate : rateOf(t));
    const worthOf = (played: Played): number => {
      state.refill(played, rates, segments);
      return state.worth(constants).worth;
    };
    // From the run as it is, and from everything on: an item and what it opens only pay together.
    const starts = [Int32Array.from(base.played)];
    if (pickUps.length > 0) {
      const all = Int32Array.from(base.played);
      for (const c of open) if (all[c]! < 0) all[c] = course.choices[c]!.options.findIndex(usable);
      starts.push(all);
    }
    let best = starts[0]!;
    let least = base.worth;
    for (const played of starts) {
      let worth = worthOf(played);
      for (let pass = 0; pass < 2; pass++) {
        for (const c of open) {
          let pick = played[c]!;
          course.choices[c]!.options.forEach((option, o) => {
            if (!usable(option)) return;
            played[c] = o;
            const tried = worthOf(played);
            if (tried < worth - 1e-12) [worth, pick] = [tried, o];
          });
          played[c] = -1;
          const without = worthOf(played);
          if (without < worth - 1e-12) [worth, pick] = [without, -1];
          played[c] = pick;
        }
      }
      if (worth < least - 1e-12) [best, least] = [played, worth];
    }
    return best;
  };
  return { open, playedAt };
}
