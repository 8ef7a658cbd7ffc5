/** The run as it is now: which techniques are used, and where. */
import type { Constants } from './constants.ts';
import type { Course, Option } from './course.ts';
import { RunState } from './run.ts';
import type { Played, RateOf } from './run.ts';

/** What is used now: the choices played and the run they make. */
export interface Baseline {
  readonly played: Played;
  readonly state: RunState;
  readonly worth: number;
}

const settlingPasses = 6;

/**
 * What is used now: of the allowed techniques, each where it lowers V at its rate, and in a spot only the best.
 * Starts from everything on, so that an item and the uses it opens are judged together.
 */
export function baseline(
  course: Course,
  allowed: (technique: string) => boolean,
  rateOf: RateOf,
  constants: Constants,
): Baseline {
  const usable = (option: Option): boolean =>
    allowed(option.technique) && (option.backup === null || allowed(option.backup));
  const played = new Int32Array(course.choices.length).fill(-1);
  course.choices.forEach((choice, c) => {
    played[c] = choice.options.findIndex(usable);
  });
  const state = new RunState(course);
  state.refill(played, rateOf);
  let best = state.worth(constants).worth;
  for (let pass = 0; pass < settlingPasses; pass++) {
    let changed = false;
    course.choices.forEach((choice, c) => {
      const before = played[c]!;
      let pick = before;
      for (let option = -1; option < choice.options.length; option++) {
        if (option === before || (option >= 0 && !usable(choice.options[option]!))) continue;
        played[c] = option;
        state.refill(played, rateOf);
        const worth = state.worth(constants).worth;
        if (worth < best - 1e-12) {
          best = worth;
          pick = option;
        }
      }
      played[c] = pick;
      if (pick !== before) changed = true;
    });
    if (!changed) break;
  }
  state.refill(played, rateOf);
  return { played, state, worth: state.worth(constants).worth };
}
