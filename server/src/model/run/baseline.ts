/** The baseline: which techniques the runner uses today, and in which choices. */
import type { Constants } from '../core/constants.ts';
import type { Choice, RouteLayout, PlayOption } from './routeLayout.ts';
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

/** Up to so many choices that hang together by an item or the end of the run are also changed two at a time. */
const mostTied = 12;

/** Which techniques may be used, and how often each lands in a run. */
interface AllowedTechniques {
  readonly allowed: (technique: string) => boolean;
  readonly rateOf: LandingRateOf;
}

/** Whether an item is picked up in a choice, and none is needed. */
function onlyPicksUp({ options }: Choice): boolean {
  return (
    options.some(({ use }) => use.take !== undefined) && options.every(({ use }) => use.with === undefined)
  );
}

/** Whether what is best in a choice can hang on another choice: what ends the run, picks up an item or needs one. */
function isTied({ options }: Choice): boolean {
  return options.some(
    ({ use }) =>
      use.with !== undefined || use.take !== undefined || use.misses.some(({ endsRun }) => endsRun),
  );
}

/** The numbers of the options that may be played in a choice; -1 is none of them. */
function waysToPlay({ options }: Choice, usable: (option: PlayOption) => boolean): number[] {
  return [-1, ...[...options.keys()].filter((o) => usable(options[o]!))];
}

/** Every way to take one of each list. */
function combinations(lists: readonly (readonly number[])[]): number[][] {
  return lists.reduce<number[][]>(
    (all, list) => all.flatMap((one) => list.map((next) => [...one, next])),
    [[]],
  );
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
    return { choice, option, worth, picksUp: Number(onlyPicksUp(layout.choices[choice]!)) };
  });
  for (const { choice, option } of alone) played[choice] = option;
  // What needs an item is decided while it is still picked up: a bad use of it must not cost the run the item.
  const inOrder = alone
    .sort((a, b) => a.picksUp - b.picksUp || a.worth - b.worth)
    .map(({ choice }) => choice);
  state.recompute(played, rateOf);
  const ways = new Map(open.map((c) => [c, waysToPlay(layout.choices[c]!, usable)]));
  const tied = inOrder.filter((c) => isTied(layout.choices[c]!));
  const groups = [
    ...inOrder.map((c) => [c]),
    ...(tied.length <= mostTied ? tied.flatMap((a, i) => tied.slice(i + 1).map((b) => [a, b])) : []),
  ];
  let best = state.worth(constants).worth;
  /** Plays some choices in the way that lowers V most; whether any does. */
  const change = (group: readonly number[]): boolean => {
    const before = group.map((c) => played[c]!);
    const segments = group.flatMap((c) => touched.get(c)!);
    const play = (options: readonly number[]): void => {
      group.forEach((c, i) => (played[c] = options[i]!));
      state.recompute(played, rateOf, segments);
    };
    let pick = before;
    for (const options of combinations(group.map((c) => ways.get(c)!))) {
      if (options.every((option, i) => option === before[i])) continue;
      play(options);
      const { worth } = state.worth(constants);
      if (worth < best - 1e-12) [best, pick] = [worth, options];
    }
    play(pick);
    return pick !== before;
  };
  for (let pass = 0; pass < settlingPasses; pass++) if (!groups.map(change).includes(true)) break;
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
