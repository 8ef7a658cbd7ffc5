/** What a technique did in the runs of the last seven days, by the runner's own counts. */
import { itemLinks } from '../choices/skillChoice.ts';
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
 * Seconds that a missed try of each technique costs against landing it. Where it ends the run these are seconds of the clock up to
 * there, which count a hundredth, as in what a run is worth. A miss that can be tried again costs the seconds of the next try only;
 * one that a backup follows is made good by what the backup saves when it lands; and one that leaves an item behind costs what
 * the item opens, too.
 */
export function secondsOfAMiss(world: World, runs: readonly LastWeek[], { tallies }: View): number[] {
  return world.skills.map((skill, i) => {
    if (skill.endsRun) {
      const until = world.segments.slice(0, Math.min(...skill.segments) + 1);
      return clockWeight * until.reduce((sum, { time }) => sum + time, world.restart);
    }
    const whole = skill.saves + skill.loses;
    const choice = world.choices?.[i];
    if (choice === undefined) return whole;
    const { backup, takes, tries, retrySeconds } = choice;
    const madeGood = backup === null ? 0 : backup.saves * landedShare(runs[backup.skill]!);
    const users = takes === null ? [] : itemLinks(world.choices!).get(takes)!.users;
    const opens = users
      .filter((user) => tallies[user]!.inRun)
      .reduce((sum, user) => sum + world.skills[user]!.saves * world.skills[user]!.segments.length, 0);
    const last = shareOfLastTries(1 - landedShare(runs[i]!), tries);
    return last * (whole - madeGood + opens) + (1 - last) * retrySeconds;
  });
}

function landedShare({ landed, missed }: LastWeek): number {
  return landed > 0 ? landed / (landed + missed) : 0;
}

/** Of the misses, the share that no further try follows. */
function shareOfLastTries(missRate: number, tries: number): number {
  let misses = 0;
  for (let n = 1; n <= tries; n++) misses += missRate ** n;
  return misses > 0 ? missRate ** tries / misses : 1;
}
