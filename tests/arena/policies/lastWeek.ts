/** What a technique did in the runs of the last seven days, by the runner's own counts. */
import { firstDay } from '../world.ts';
import type { World } from '../world.ts';
import { clockWeight } from '../worth.ts';
import type { View } from './policy.ts';

export interface LastWeek {
  readonly landed: number;
  readonly missed: number;
  /** The last evening of these runs, counted from 0; -1 without any. */
  readonly lastDay: number;
}

/** Of every technique of the route, in its order. */
export function lastWeekOf(world: World, { day, logs }: View): LastWeek[] {
  const byId = new Map<string, LastWeek>();
  for (const entry of logs.runs) {
    const on = entry.day - firstDay;
    if (on < day - 7 || on >= day) continue;
    const before = byId.get(entry.technique) ?? none;
    const { landed, tries } = entry.counted;
    byId.set(entry.technique, {
      landed: before.landed + landed,
      missed: before.missed + tries - landed,
      lastDay: on,
    });
  }
  return world.skills.map(({ id }) => byId.get(id) ?? none);
}

const none: LastWeek = { landed: 0, missed: 0, lastDay: -1 };

/**
 * Seconds that a miss of each technique costs against landing it. Where it ends the run these are seconds of the clock up to
 * there, which count a hundredth, as in what a run is worth.
 */
export function secondsOfAMiss(world: World): number[] {
  return world.skills.map((skill) => {
    if (!skill.endsRun) return skill.saves + skill.loses;
    const until = world.segments.slice(0, Math.min(...skill.segments) + 1);
    return clockWeight * until.reduce((sum, { time }) => sum + time, world.restart);
  });
}
