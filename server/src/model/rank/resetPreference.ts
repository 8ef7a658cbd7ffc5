/**
 * What rests on the runner's preference: how much a second of the clock that is lost to resets counts against a second
 * of a finished run (the constant `clockWeight`). Only a miss that ends the run leads to a reset.
 */
import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { type Constants, resolveConstants } from '../core/constants.ts';
import { ModelCache } from '../core/modelCache.ts';
import type { RouteModel } from '../core/types.ts';
import { type PreparedModel, prepareModelInSteps, type RankInput } from '../run/preparedModel.ts';
import { createTechniqueValuer } from '../run/techniqueValuer.ts';
import { orderPreparedInSteps } from './rankingOrder.ts';

/** How many of the first places are compared. */
const comparedPlaces = 3;

/** The first places of a ranking, at a weight of a second lost to resets. */
export interface PlacesAtWeight {
  readonly clockWeight: number;
  /** Techniques, best first. */
  readonly first: readonly string[];
}

/** The first places now, and with a second lost to resets counted a quarter as much and four times as much. */
export interface ResetPreference {
  readonly now: PlacesAtWeight;
  readonly quarter: PlacesAtWeight;
  readonly fourTimes: PlacesAtWeight;
}

/** Whether a miss of the technique ends the run somewhere on the route. */
export function endsRuns({ segments }: RouteModel, technique: string): boolean {
  return segments.some(({ uses }) =>
    uses.some(
      (use) => use.technique === technique && use.misses.some(({ chance, endsRun }) => endsRun && chance > 0),
    ),
  );
}

/** The weight of a second lost to resets that a technique's break-even rests on; null where none of its misses ends the run. */
export function resetWeightOf(
  { route, constants }: Pick<RankInput, 'route' | 'constants'>,
  technique: string,
): number | null {
  return endsRuns(route, technique) ? resolveConstants(constants).clockWeight : null;
}

/**
 * Ranks by time again, with a quarter of the weight of a second lost to resets and with four times it. The logs say the
 * same at every weight, so only the worth of each technique and the order are computed again.
 *
 * @returns null where no miss on the route ends the run: then nothing rests on that weight
 */
export const resetPreference = inOneGo(resetPreferenceInSteps);

/** The same in steps. */
export function* resetPreferenceInSteps(
  input: RankInput,
  cache = new ModelCache(),
): Steps<ResetPreference | null> {
  if (!input.route.techniques.some(({ id }) => endsRuns(input.route, id))) return null;
  const byTime = { ...input, options: { ...input.options, objective: 'time' } };
  const prepared = yield* prepareModelInSteps(byTime, cache);
  function* at(factor: number): Steps<PlacesAtWeight> {
    const clockWeight = factor * prepared.constants.clockWeight;
    const constants = resolveConstants({ ...prepared.constants, clockWeight });
    const { ranked } = yield* orderPreparedInSteps(byTime, atWeight(prepared, constants, cache));
    return {
      clockWeight: constants.clockWeight,
      first: ranked.slice(0, comparedPlaces).map(({ candidate }) => candidate.id),
    };
  }
  return { now: yield* at(1), quarter: yield* at(1 / 4), fourTimes: yield* at(4) };
}

/** The model with each technique valued by other constants. The caches of the caller are not changed. */
function atWeight(prepared: PreparedModel, constants: Constants, cache: ModelCache): PreparedModel {
  const { layout, inRun, fittedTechniques } = prepared;
  const own = cache.copy();
  return {
    ...prepared,
    fittedTechniques: new Map(
      [...fittedTechniques].map(([id, fitted]) => [id, { ...fitted, memory: own.forTechnique(id) }]),
    ),
    valuer: createTechniqueValuer(layout, inRun, constants, own),
  };
}

/** Whether the first places are the same at all three weights. */
export function isSettled({ now, quarter, fourTimes }: ResetPreference): boolean {
  return [quarter, fourTimes].every(({ first }) => first.join(' ') === now.first.join(' '));
}
