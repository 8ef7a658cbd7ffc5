import type { RankInput } from '../run/preparedModel.ts';
import type { PlanInput } from '../week/planWeek.ts';

/** What tonight's answer is made from. */
export interface TonightInput {
  /** The planner's input; its first day is today. */
  readonly plan: PlanInput;
  /** Minutes of practice that the week gives each day, whether practised already or not; today's first. */
  readonly givenMinutes: readonly number[];
  /**
   * The model's input of the last day with entries before today, as on that day's morning: without the entries of that
   * day. Null if nothing was logged before today.
   */
  readonly lastTime: RankInput | null;
}
