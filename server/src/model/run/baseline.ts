/** The baseline: which techniques the runner uses today, and in which choices. */
import type { Constants } from '../core/constants.ts';
import type { RouteLayout, PlayOption } from './routeLayout.ts';
import { choicesOfTechnique, affectedSegments } from './affectedSegments.ts';
import { RunState } from './runState.ts';
import type { ChosenOptions } from './playSegments.ts';
import type { LandingRateOf } from './runState.ts';

/** The options played today and the worth of that run. */
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

/**
 * Finds the best options of some choices by local search. It starts with an option played in every one of them, so
 * that an item and the uses that need it are judged together.
 */
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
  const open = choices.filter((c) => layout.choices[c]!.options.some(usable));
  const touched = new Map(open.map((c) => [c, affectedSegments(layout, [c])]));
  // The first option and the order of the choices depend on what each choice is worth alone, not on the order in
  // the route file.
  for (const c of choices) played[c] = -1;
  state.recompute(played, rateOf);
  const alone = open.map((choice) => {
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
  const byWorth = alone.sort((a, b) => a.worth - b.worth).map(({ choice }) => choice);
  state.recompute(played, rateOf);
  let best = state.worth(constants).worth;
  for (let pass = 0; pass < settlingPasses; pass++) {
    let changed = false;
    for (const c of byWorth) {
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

/**
 * Chooses the baseline: each allowed technique is used where it lowers V at its landing rate, and of each spot only
 * the best option.
 */
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
 * Updates the baseline when the set of allowed techniques changes. Only the choices that the changed techniques
 * affect are chosen again.
 *
 * @param changed techniques that are newly allowed or no longer allowed
 */
export function updateBaseline(
  layout: RouteLayout,
  base: Baseline,
  changed: Iterable<string>,
  allowed: (technique: string) => boolean,
  rateOf: LandingRateOf,
  constants: Constants,
): Baseline {
  const ownChoices = new Set([...changed].flatMap((technique) => choicesOfTechnique(layout, technique)));
  // The items taken or needed in these choices may now be worth more or less in other choices.
  const items = new Set(
    [...ownChoices].flatMap((c) =>
      layout.choices[c]!.options.flatMap(({ use }) => [use.take ?? [], use.with ?? []].flat()),
    ),
  );
  const joined = [...layout.choices.keys()].filter((c) =>
    layout.choices[c]!.options.some(
      ({ use }) =>
        (use.take !== undefined && items.has(use.take)) || (use.with !== undefined && items.has(use.with)),
    ),
  );
  const choices = [...new Set([...ownChoices, ...joined])].sort((a, b) => a - b);
  return optimizeChoices(layout, base.played, choices, { allowed, rateOf }, constants);
}
