/** Breaks the expected run time down: seconds of each segment, and seconds that each technique saves. */
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { chooseBaseline } from './baseline.ts';
import { layOutRoute } from './routeLayout.ts';
import type { RouteLayout, PlayOption } from './routeLayout.ts';
import { prepareModelInSteps } from './preparedModel.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { meanRatesInRuns } from './runPlanner.ts';
import type { RankInput } from './preparedModel.ts';
import { RunState } from './runState.ts';
import type { ChosenOptions } from './playSegments.ts';
import type { LandingRateOf } from './runState.ts';

export interface Breakdown {
  /** Expected seconds of each segment of a run that reaches the end, in the route's order. */
  readonly segments: readonly { readonly segment: string; readonly seconds: number }[];
  /**
   * For each technique that is tried: seconds it saves of the expected final time, compared with the safe way in
   * its choices.
   */
  readonly techniques: readonly { readonly technique: string; readonly seconds: number }[];
}

/**
 * Breaks down a run that is played as in `computeOdds`: the techniques in the run and those of `extra`, each tried
 * where that lowers V, at their expected landing rates.
 */
export const breakdown = inOneGo(breakdownInSteps);

/** The same in steps. */
export function* breakdownInSteps(
  input: RankInput,
  extra: readonly string[],
  cache?: ModelCache,
): Steps<Breakdown> {
  const prepared = yield* prepareModelInSteps(input, cache);
  const rates = meanRatesInRuns(prepared, extra);
  const layout = layOutRoute(input.route);
  const rateOf: LandingRateOf = (technique) => rates.get(technique) ?? 0;
  const { played } = chooseBaseline(layout, (technique) => rates.has(technique), rateOf, prepared.constants);
  const stateOf = (choices: ChosenOptions): RunState => {
    const state = new RunState(layout);
    state.recompute(choices, rateOf);
    return state;
  };
  const timeOf = (state: RunState): number => state.worth(prepared.constants).finalTime;
  const whole = stateOf(played);
  const tried = new Set<string>();
  layout.choices.forEach((choice, c) => {
    const option = choice.options[played[c]!];
    if (option === undefined) return;
    tried.add(option.technique);
    if (option.backup !== null) tried.add(option.backup);
  });
  const segments = input.route.segments.map(({ id }, s) => ({ segment: id, seconds: whole.seconds[s]! }));
  const techniques = yield* mapInSteps([...tried].sort(), (technique) => ({
    technique,
    seconds: timeOf(stateOf(without(layout, played, technique))) - timeOf(whole),
  }));
  return { segments, techniques };
}

/** The options played without one technique: the safe way in its choices, and no backup by it. */
function without(layout: RouteLayout, played: ChosenOptions, technique: string): ChosenOptions {
  return played.map((pick, c) => {
    const { options } = layout.choices[c]!;
    const option = options[pick];
    if (option === undefined) return pick;
    if (option.technique === technique) return -1;
    if (option.backup !== technique) return pick;
    const alone = (other: PlayOption): boolean => other.use.id === option.use.id && other.backup === null;
    return options.findIndex(alone);
  });
}
