import type { Ranking } from '../model/core/types.ts';

/** A ranking with what it stands on: `rank --json` prints it and the editor shows it. */
export interface RankReport extends Ranking {
  /** Date of the morning on which the question is asked. */
  readonly asOf: string;
  /** Unit of the gains for each hour of practice, such as `s/h`. */
  readonly unit: string;
}
