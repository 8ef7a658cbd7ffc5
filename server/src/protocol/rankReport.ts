import type { Ranking } from '../model/core/results.ts';
import type { StandingReport } from './standing.ts';

/** A ranking with its date and unit: `rank --json` prints it and the editor shows it. */
export interface RankReport extends Omit<Ranking, 'standings'> {
  readonly standings: readonly StandingReport[];
  /** Date of the morning that it is for. */
  readonly asOf: string;
  /** Unit of the gains for each hour of practice, such as `s/h`. */
  readonly unit: string;
}
