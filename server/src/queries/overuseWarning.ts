import { runnerDayOf } from '../text/calendar.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { dayStartsOf } from './dayStarts.ts';

/** A day with more than so many minutes of practice is long; so is a day with too many of them on one technique. */
const longDayMinutes = 120;
const longTechniqueMinutes = 60;
/** A long day counts for the warning within this many days. */
const recentDays = 14;

/** A sentence for a runner whose planned or last days of practice are long; undefined where they are not. */
export function overuseWarning(own: RunnerFiles, asOfDay: number): string | undefined {
  const planned = Object.values(own.week?.document.days ?? {}).some((minutes) => minutes > longDayMinutes);
  if (!planned && !hasLongPractice(own, asOfDay)) return undefined;
  return 'Long days tire hands and wrists: rest between blocks, and take pain as a reason to stop and see a clinician.';
}

function hasLongPractice(own: RunnerFiles, asOfDay: number): boolean {
  const dayStarts = dayStartsOf(own);
  const byDay = new Map<number, number>();
  const byTechnique = new Map<string, number>();
  for (const { start, blocks } of own.practice.flatMap(({ document }) => document.sessions)) {
    const day = runnerDayOf(start, dayStarts);
    if (day > asOfDay || day < asOfDay - recentDays) continue;
    for (const { technique, minutes } of blocks) {
      byDay.set(day, (byDay.get(day) ?? 0) + minutes);
      const key = `${day} ${technique ?? ''}`;
      if (technique !== undefined) byTechnique.set(key, (byTechnique.get(key) ?? 0) + minutes);
    }
  }
  return (
    [...byDay.values()].some((minutes) => minutes > longDayMinutes) ||
    [...byTechnique.values()].some((minutes) => minutes > longTechniqueMinutes)
  );
}
