/**
 * The list of objectives that a ranking can use. To add one, create a file in this folder and add its export to the
 * list.
 */
import type { Steps } from '../../../incremental/steps.ts';
import type { PreparedModel, RankInput } from '../../run/preparedModel.ts';
import type { TechniqueValuer } from '../../run/techniqueValuer.ts';
import type { RankOptions } from '../../core/types.ts';
import type { TargetChance } from '../../core/results.ts';
import type { Objective } from './objective.ts';
import { target } from './target.ts';
import { time } from './time.ts';

/** In the order in which they are offered. The first one needs nothing, so it is used if another cannot be. */
export const objectives: readonly [Objective, ...Objective[]] = [time, target];

/** The known values of the options that an objective can need. */
export interface KnownOptions {
  /** A time to beat, seconds. */
  readonly target?: number | undefined;
}

/** The objective with an id; the first objective if no objective has that id. */
export function findObjective(id: string | undefined): Objective {
  return objectives.find((objective) => objective.id === id) ?? objectives[0];
}

/**
 * The objectives whose needs are known.
 *
 * @example
 * answerableObjectives({}).map(({ id }) => id) // ['time']
 * answerableObjectives({ target: 2490 }).map(({ id }) => id) // ['time', 'target']
 */
export function answerableObjectives(known: KnownOptions): readonly Objective[] {
  return objectives.filter(({ needs }) => needs === undefined || known[needs] !== undefined);
}

/** The ranking options that select the objective. */
export type ObjectiveOptions = Pick<RankOptions, 'objective' | 'target'>;

/**
 * The ranking options for an objective: only its id and the option it needs. If the id is unknown or the needed
 * option is missing, the options for the first objective.
 *
 * @example
 * objectiveOptions('target', { target: 2490 }) // { objective: 'target', target: 2490 }
 * objectiveOptions('time', { target: 2490 }) // { objective: 'time' }
 * objectiveOptions('target', {}) // { objective: 'time' }
 */
export function objectiveOptions(id: string | undefined, known: KnownOptions): ObjectiveOptions {
  const { id: objective, needs } = chooseObjective(id, known);
  const needed = needs === undefined ? undefined : known[needs];
  return { objective, ...(needs !== undefined && needed !== undefined && { [needs]: needed }) };
}

function chooseObjective(id: string | undefined, known: KnownOptions): Objective {
  return answerableObjectives(known).find((objective) => objective.id === id) ?? objectives[0];
}

/** Techniques valued by the requested objective, or by the first one if the requested one cannot distinguish them. */
export interface ChosenValuation {
  /** The objective that was used. */
  readonly objective: Objective;
  readonly valuer: TechniqueValuer;
  readonly target: TargetChance | null;
}

/** Values techniques by the objective in the options. */
export function* valueByObjectiveInSteps(input: RankInput, prepared: PreparedModel): Steps<ChosenValuation> {
  const requested = chooseObjective(input.options.objective, input.options);
  const valuation = yield* requested.valueInSteps(input, prepared);
  const ranked = valuation.valuer !== null;
  return {
    objective: ranked ? requested : objectives[0],
    valuer: valuation.valuer ?? prepared.valuer,
    target: valuation.target && { ...valuation.target, ranked },
  };
}
