import type { Ranking } from '../model/core/types.ts';

/** A ranking with its date and unit: `rank --json` prints it and the editor shows it. */
export interface RankReport extends Ranking {
  /** Date of the morning that it is for. */
  readonly asOf: string;
  /** Unit of the gains for each hour of practice, such as `s/h`. */
  readonly unit: string;
}
