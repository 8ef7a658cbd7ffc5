/** What an objective says about itself, so that whatever ranks or shows gains needs to know no objective by name. */
import type { PreparedModel, RankInput } from '../../run/preparedModel.ts';
import type { TechniqueValuer } from '../../run/techniqueValuer.ts';
import type { RankOptions, TargetChance } from '../../core/types.ts';

/** What practice can serve. */
export interface Objective {
  /** How it is chosen and stored; never changed once released. */
  readonly id: string;
  /** The option of a ranking without which it cannot be answered. */
  readonly needs: (keyof RankOptions & 'target') | undefined;
  /** What it is, as part of a sentence. */
  readonly meaning: string;
  /** Its name in a list to choose from. `target` is the time to beat as a clock shows it; empty where there is none. */
  readonly choiceLabel: (target: string) => string;
  readonly gain: GainUnit;
  /** What each technique is worth by it. Called only with what it needs. */
  readonly value: (input: RankInput, prepared: PreparedModel) => ObjectiveValuation;
}

/** The unit of an objective's gains, and the words for it. */
export interface GainUnit {
  /** What a gain is multiplied by before it is shown. JSON has gains without it. */
  readonly scale: number;
  /** Behind a figure in a table: `s`. */
  readonly symbol: string;
  /** Behind a figure in a sentence: `percentage points`. */
  readonly word: string;
  /** Behind a rate of gain: `s per hour`. */
  readonly perHour: string;
  /** Of a rate of gain in JSON, before scaling: `s/h`. */
  readonly jsonUnit: string;
  /** What the column of gains holds, as the beginning of a sentence. */
  readonly definition: string;
  readonly axisLabel: string;
  /** What practice is expected to do, as the beginning of a sentence, given the gain with its unit. */
  readonly expected: (gain: string) => string;
}

/** Techniques valued by an objective. */
export interface ObjectiveValuation {
  /** Null where no technique can be told from another by this objective: the first objective then serves instead. */
  readonly valuer: TechniqueValuer | null;
  /** For an objective that needs a time to beat. */
  readonly target: Omit<TargetChance, 'ranked'> | null;
}
