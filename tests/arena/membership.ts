/**
 * Who is in a practice set, measured in one way for every policy: by what was practised. A technique is in the set from
 * its first block until four practice days in a row pass without it, and it left on the first of these four. (A set
 * of four that a short evening takes one at a time is practised whole in four such days.) It left competent where the policy
 * itself called it learned on one of the four mornings.
 */

/** Practice days in a row without a technique after which it has left. */
export const absence = 4;

/** One practice day: what was practised, and what the policy called learned that morning. */
export interface PracticeDay {
  /** Counted from 0. */
  readonly day: number;
  readonly practised: ReadonlySet<number>;
  readonly learned: (skill: number) => boolean;
}

/**
 * Techniques that left the set a week, without being learned; null where there were too few practice days to see one
 * leave. The days at the end on which an exit could not be seen any more do not count as time. No simulated runner asks for an exit.
 */
export function exitsPerWeek(practiceDays: readonly PracticeDay[]): number | null {
  // The last practice day on which a technique can be seen to leave.
  const last = practiceDays.length - absence;
  if (last < 1) return null;
  const members = new Set<number>();
  let exits = 0;
  practiceDays.slice(0, last + 1).forEach(({ practised }, d) => {
    const without = practiceDays.slice(d, d + absence);
    for (const skill of members) {
      if (without.some((day) => day.practised.has(skill))) continue;
      members.delete(skill);
      if (!without.some((day) => day.learned(skill))) exits++;
    }
    for (const skill of practised) members.add(skill);
  });
  return exits / ((practiceDays[last]!.day + 1) / 7);
}
