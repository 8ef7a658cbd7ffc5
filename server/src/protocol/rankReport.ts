import type { Ranking } from '../model/core/types.ts';

/** A ranking with what it stands on: `rank --json` prints it and the editor shows it. */
export interface RankReport extends Ranking {
  /** Date of the morning on which the question is asked. */
  readonly asOf: string;
  readonly objective: 'time' | 'target';
  /**
   * Unit of the gains: seconds of expected run time, or the chance of beating the target in an hour of runs, for each
   * hour of practice.
   */
  readonly unit: 's/h' | '1/h';
}
