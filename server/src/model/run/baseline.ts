/** The run as it is now: which techniques are used, and where. */
import type { Constants } from '../core/constants.ts';
import type { RouteLayout, PlayOption } from './routeLayout.ts';
import { choicesOfTechnique, affectedSegments } from './affectedSegments.ts';
import { RunState } from './runState.ts';
import type { ChosenOptions, LandingRateOf } from './runState.ts';

/** What is used now: the choices played and the run they make. */
export interface Baseline {
  readonly played: ChosenOptions;
  readonly state: RunState;
  readonly worth: number;
}

const settlingPasses = 6;

/** Which techniques may be used, and how often each lands in a run. */
interface AllowedTechniques {
  readonly allowed: (technique: string) => boolean;
  readonly rateOf: LandingRateOf;
}

/** Settles some choices, starting from everything on in them: an item and the uses it opens are judged together. */
function optimizeChoices(
  layout: RouteLayout,
  start: ChosenOptions,
  choices: readonly number[],
  { allowed, rateOf }: AllowedTechniques,
  constants: Constants,
): Baseline {
  const usable = (option: PlayOption): boolean =>
    allowed(option.technique) && (option.backup === null || allowed(option.backup));
  const played = Int32Array.from(start);
  const state = new RunState(layout);
  const touched = new Map(choices.map((c) => [c, affectedSegments(layout, [c])]));
  // What a choice brings alone says with which option to begin, and whose turn it is: what is listed first does not.
  for (const c of choices) played[c] = -1;
  state.recompute(played, rateOf);
  const alone = choices.map((choice) => {
    let [option, worth] = [-1, Infinity];
    layout.choices[choice]!.options.forEach((one, o) => {
      if (!usable(one)) return;
      played[choice] = o;
      state.recompute(played, rateOf, touched.get(choice));
      const now = state.worth(constants).worth;
      if (now < worth) [option, worth] = [o, now];
    });
    played[choice] = -1;
    state.recompute(played, rateOf, touched.get(choice));
    return { choice, option, worth };
  });
  for (const { choice, option } of alone) played[choice] = option;
  const inTurn = alone.sort((a, b) => a.worth - b.worth).map(({ choice }) => choice);
  state.recompute(played, rateOf);
  let best = state.worth(constants).worth;
  for (let pass = 0; pass < settlingPasses; pass++) {
    let changed = false;
    for (const c of inTurn) {
      const { options } = layout.choices[c]!;
      const before = played[c]!;
      let pick = before;
      for (let option = -1; option < options.length; option++) {
        if (option === before || (option >= 0 && !usable(options[option]!))) continue;
        played[c] = option;
        state.recompute(played, rateOf, touched.get(c));
        const worth = state.worth(constants).worth;
        if (worth < best - 1e-12) {
          best = worth;
          pick = option;
        }
      }
      played[c] = pick;
      state.recompute(played, rateOf, touched.get(c));
      if (pick !== before) changed = true;
    }
    if (!changed) break;
  }
  state.recompute(played, rateOf);
  return { played, state, worth: state.worth(constants).worth };
}

/** What is used now: of the allowed techniques, each where it lowers V at its rate, and in a spot only the best. */
export function chooseBaseline(
  layout: RouteLayout,
  allowed: (technique: string) => boolean,
  rateOf: LandingRateOf,
  constants: Constants,
): Baseline {
  const none = new Int32Array(layout.choices.length).fill(-1);
  return optimizeChoices(layout, none, [...layout.choices.keys()], { allowed, rateOf }, constants);
}

/**
 * The run once other techniques may be used in it than before, each where it lowers V: only choices that have to do
 * with them are made anew.
 *
 * @param changed those that may be used now and might not before, or the other way round
 */
export function updateBaseline(
  layout: RouteLayout,
  base: Baseline,
  changed: Iterable<string>,
  allowed: (technique: string) => boolean,
  rateOf: LandingRateOf,
  constants: Constants,
): Baseline {
  const own = new Set([...changed].flatMap((technique) => choicesOfTechnique(layout, technique)));
  // What is picked up or used up there may be worth more, or less, to others.
  const items = new Set(
    [...own].flatMap((c) =>
      layout.choices[c]!.options.flatMap(({ use }) => [use.take ?? [], use.with ?? []].flat()),
    ),
  );
  const joined = [...layout.choices.keys()].filter((c) =>
    layout.choices[c]!.options.some(
      ({ use }) =>
        (use.take !== undefined && items.has(use.take)) || (use.with !== undefined && items.has(use.with)),
    ),
  );
  const choices = [...new Set([...own, ...joined])].sort((a, b) => a - b);
  return optimizeChoices(layout, base.played, choices, { allowed, rateOf }, constants);
}
