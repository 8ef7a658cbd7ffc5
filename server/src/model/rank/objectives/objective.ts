/**
 * The description of an objective. Code that ranks or shows gains uses only this, so it does not depend on single
 * objectives.
 */
import type { Steps } from '../../../incremental/steps.ts';
import type { PreparedModel, RankInput } from '../../run/preparedModel.ts';
import type { TechniqueValuer } from '../../run/techniqueValuer.ts';
import type { RankOptions } from '../../core/types.ts';
import type { TargetChance } from '../../core/results.ts';

/** An objective: what the gains from practice are measured by. */
export interface Objective {
  /** The id under which it is selected and stored. It never changes after a release. */
  readonly id: string;
  /** The ranking option that it needs; undefined if it needs none. */
  readonly needs: (keyof RankOptions & 'target') | undefined;
  /** Its meaning, as part of a sentence. */
  readonly meaning: string;
  /** Its name in a list to choose from. `target` is the formatted time to beat; empty if there is none. */
  readonly choiceLabel: (target: string) => string;
  readonly gain: GainUnit;
  /** A sentence on the target, for an objective that needs one. `target` and `chance` are formatted. */
  readonly targetText?: (target: string, chance: string, ranked: boolean) => string;
  /** Values each technique by this objective. Called only if the option it needs is given. */
  readonly valueInSteps: (input: RankInput, prepared: PreparedModel) => Steps<ObjectiveValuation>;
}

/** The unit of an objective's gains, and the words for it. */
export interface GainUnit {
  /** Factor that a gain is multiplied by before it is shown. Gains in JSON are not multiplied. */
  readonly scale: number;
  /** Text after a number in a table, such as `s`. */
  readonly symbol: string;
  /** Text after a number in a sentence, such as `percentage points`. */
  readonly word: string;
  /** Text after a gain per hour, such as `s per hour`. */
  readonly perHour: string;
  /** Unit of a gain per hour in JSON, before scaling, such as `s/h`. */
  readonly jsonUnit: string;
  /** Description of the column of gains, as the beginning of a sentence. */
  readonly definition: string;
  readonly axisLabel: string;
  /** The expected effect of practice, as the beginning of a sentence. `gain` is the number with its unit. */
  readonly expected: (gain: string) => string;
}

/** Techniques valued by an objective. */
export interface ObjectiveValuation {
  /** Null if this objective cannot distinguish the techniques; then the first objective is used instead. */
  readonly valuer: TechniqueValuer | null;
  /** The chance to beat the target today; null for an objective that needs no target. */
  readonly target: Omit<TargetChance, 'ranked'> | null;
}
