/** The objectives that a ranking can be by. To add one: a file beside this one, and its name in the list. */
import type { PreparedModel, RankInput } from '../../run/preparedModel.ts';
import type { TechniqueValuer } from '../../run/techniqueValuer.ts';
import type { RankOptions, TargetChance } from '../../core/types.ts';
import type { Objective } from './objective.ts';
import { target } from './target.ts';
import { time } from './time.ts';

/** In the order in which they are offered. The first can always be answered: it serves where another cannot. */
export const objectives: readonly [Objective, ...Objective[]] = [time, target];

/** What an objective may need, as far as it is known. */
export interface KnownForObjective {
  /** A time to beat, seconds. */
  readonly target?: number | undefined;
}

/** The objective of an id; the first where no other has it. */
export function findObjective(id: string | undefined): Objective {
  return objectives.find((objective) => objective.id === id) ?? objectives[0];
}

/**
 * The objectives that can be answered with what is known.
 *
 * @example
 * answerableObjectives({}).map(({ id }) => id) // ['time']
 * answerableObjectives({ target: 2490 }).map(({ id }) => id) // ['time', 'target']
 */
export function answerableObjectives(known: KnownForObjective): readonly Objective[] {
  return objectives.filter(({ needs }) => needs === undefined || known[needs] !== undefined);
}

/** The options of a ranking that say what it is by. */
export type ObjectiveOptions = Pick<RankOptions, 'objective' | 'target'>;

/**
 * The options of a ranking by an objective: its id and what it needs, no more. Those of the first objective where the id
 * is unknown or what it needs is.
 *
 * @example
 * objectiveOptions('target', { target: 2490 }) // { objective: 'target', target: 2490 }
 * objectiveOptions('time', { target: 2490 }) // { objective: 'time' }
 * objectiveOptions('target', {}) // { objective: 'time' }
 */
export function objectiveOptions(id: string | undefined, known: KnownForObjective): ObjectiveOptions {
  const { id: objective, needs } = chooseObjective(id, known);
  const needed = needs === undefined ? undefined : known[needs];
  return { objective, ...(needs !== undefined && needed !== undefined && { [needs]: needed }) };
}

function chooseObjective(id: string | undefined, known: KnownForObjective): Objective {
  return answerableObjectives(known).find((objective) => objective.id === id) ?? objectives[0];
}

/** Techniques valued by the objective asked for, or by the first where that one cannot tell them apart. */
export interface ChosenValuation {
  /** What they are valued by. */
  readonly objective: Objective;
  readonly valuer: TechniqueValuer;
  readonly target: TargetChance | null;
}

/** Values techniques by the objective that the options ask for. */
export function valueByObjective(input: RankInput, prepared: PreparedModel): ChosenValuation {
  const asked = chooseObjective(input.options.objective, input.options);
  const valuation = asked.value(input, prepared);
  const ranked = valuation.valuer !== null;
  return {
    objective: ranked ? asked : objectives[0],
    valuer: valuation.valuer ?? prepared.valuer,
    target: valuation.target && { ...valuation.target, ranked },
  };
}
