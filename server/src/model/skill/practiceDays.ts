/** A technique's log day by day, with the effective practice that each day added. */
import type { Constants } from '../core/constants.ts';
import { addCounts } from '../core/counts.ts';
import { estimatePace } from './practiceHistory.ts';
import { practiceLevel, stateOnMorning, applyPractice, unpractised } from './practiceState.ts';
import type { PracticeState } from './practiceState.ts';
import type { AttemptCount, Logs, TechniqueModel } from '../core/types.ts';

export interface PracticeDay {
  readonly day: number;
  readonly blocks: number;
  readonly minutes: number;
  /** Attempts in practice: the counted ones, or an estimate from the pace if they were not counted. */
  readonly attempts: number;
  /** Whether all of them were counted. */
  readonly allCounted: boolean;
  /** The counts in practice and in runs. */
  readonly practice: AttemptCount;
  readonly runs: AttemptCount;
  /** Effective attempts in the morning, with overnight gains and forgetting included. */
  readonly before: number;
  /** Effective attempts that the day added. */
  readonly dose: number;
  /** ln(1 + E/unit) at the end of the day. */
  readonly level: number;
}

const nothing: AttemptCount = { landed: 0, tries: 0 };

/**
 * The practice days of one technique, with the same steps as the model. `logs` must contain entries of that
 * technique only.
 */
export function practiceDays(technique: TechniqueModel, logs: Logs, constants: Constants): PracticeDay[] {
  const pace = estimatePace(logs.practice, technique);
  const entries = [
    ...logs.practice.map((entry) => ({ ...entry, inRun: false })),
    ...logs.runs.map((entry) => ({ ...entry, inRun: true, minutes: 0, attempts: entry.counted.tries })),
  ].sort((a, b) => a.day - b.day || a.order - b.order);
  const days: PracticeDay[] = [];
  let state: PracticeState = unpractised;
  for (const entry of entries) {
    const { day, minutes, counted, inRun } = entry;
    const attempts = Math.max(counted?.tries ?? 0, entry.attempts ?? minutes * pace);
    const before = stateOnMorning(state, day, constants).effective;
    const { state: after, added } = applyPractice(state, day, attempts, minutes, constants);
    state = after;
    const last = days.at(-1);
    const open: PracticeDay =
      last?.day === day
        ? days.pop()!
        : {
            ...{
              day,
              blocks: 0,
              minutes: 0,
              attempts: 0,
              allCounted: true,
              practice: nothing,
              runs: nothing,
            },
            ...{ before, dose: 0, level: 0 },
          };
    days.push({
      ...open,
      blocks: open.blocks + (inRun ? 0 : 1),
      minutes: open.minutes + minutes,
      attempts: open.attempts + (inRun ? 0 : attempts),
      allCounted: open.allCounted && (inRun || entry.attempts !== undefined),
      practice: inRun ? open.practice : addCounts(open.practice, counted ?? nothing),
      runs: inRun ? addCounts(open.runs, counted ?? nothing) : open.runs,
      dose: open.dose + added,
      level: practiceLevel(after.effective, constants),
    });
  }
  return days;
}
