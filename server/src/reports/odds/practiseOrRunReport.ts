import { inOneGo } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import type { ModelCache } from '../../model/core/modelCache.ts';
import { mostHoursLeft } from '../../model/week/hoursLeft.ts';
import {
  practiseOrRunInSteps,
  type PractiseOrRun,
  type PractiseOrRunQuestion,
} from '../../model/week/practiseOrRun.ts';
import type { PlanDay } from '../../model/week/planWeek.ts';
import type { WeekInput } from '../../queries/weekInput.ts';
import { formatHours, formatPercent, percentInWords } from '../../text/format.ts';
import { roundFigures, roundShare } from '../rounding.ts';

/** How to divide the hours left between practice and runs: `odds --json` prints it. Hours, chances from 0 to 1. */
export interface PractiseOrRunReport {
  /** Hours left, and whether somebody asked about so many; else they are those of the week file in the weeks planned. */
  readonly hours: number;
  readonly from: 'asked' | 'week';
  /** Hours of practice in the plan. */
  readonly planHours: number;
  /** Hours of practice that give the best chance, that chance, and the hours that are about as good. */
  readonly practice: number;
  readonly chance: number;
  readonly asGood: { readonly from: number; readonly to: number };
  /** The chance with runs alone. */
  readonly runsAlone: number;
  /** Some ways to divide the hours, by rising practice, the best among them. */
  readonly splits: readonly { readonly practice: number; readonly runs: number; readonly chance: number }[];
}

/** Ways to divide the hours that are shown, besides the best. */
const shownSplits = 4;

/** Below this chance the target is out of reach, however the hours are divided. */
const practicallyNone = 0.005;

/**
 * How to divide the hours left; null where no day of the plan has practice.
 *
 * @param days the days of a plan for this input
 * @param asked without hours, those that the week file gives in the weeks planned
 */
export const practiseOrRunReport = inOneGo(practiseOrRunReportInSteps);

/** The same in steps. */
export function* practiseOrRunReportInSteps(
  weekInput: WeekInput,
  days: readonly PlanDay[],
  asked: Omit<PractiseOrRunQuestion, 'hours'> & { readonly hours?: number | undefined },
  cache?: ModelCache,
): Steps<PractiseOrRunReport | null> {
  if (days.every(({ blocks }) => blocks.length === 0)) return null;
  const hours = asked.hours ?? hoursOf(weekInput);
  const found = yield* practiseOrRunInSteps(
    weekInput,
    days,
    { ...asked, hours, runMinutesPerDay: weekInput.runMinutesPerDay },
    cache,
  );
  return reportOf(found, asked.hours === undefined ? 'week' : 'asked');
}

/** Hours that the week file gives from the first day planned to the last, for practice and for runs. */
function hoursOf({ planInput, runMinutes }: WeekInput): number {
  const minutes = [...planInput.minutes, ...runMinutes].reduce((sum, own) => sum + own, 0);
  return Math.min(mostHoursLeft, minutes / 60);
}

function reportOf(
  { hours, planHours, splits, best, asGood }: PractiseOrRun,
  from: PractiseOrRunReport['from'],
): PractiseOrRunReport {
  const shown = Array.from({ length: shownSplits }, (_, i) =>
    Math.round((i * (splits.length - 1)) / (shownSplits - 1)),
  );
  const kept = new Set([...shown, splits.indexOf(best)]);
  return {
    ...{ hours, from, planHours, asGood },
    practice: best.practiceHours,
    chance: best.chance,
    runsAlone: splits[0]!.chance,
    splits: splits
      .filter((_, i) => kept.has(i))
      .map(({ practiceHours, runHours, chance }) => ({ practice: practiceHours, runs: runHours, chance })),
  };
}

/** The report with its numbers rounded. */
export function practiseOrRunJson(report: PractiseOrRunReport): PractiseOrRunReport {
  const { hours, from, planHours, practice, chance, asGood, runsAlone, splits } = report;
  return {
    hours: roundFigures(hours),
    from,
    planHours: roundFigures(planHours),
    practice: roundFigures(practice),
    chance: roundShare(chance),
    asGood: { from: roundFigures(asGood.from), to: roundFigures(asGood.to) },
    runsAlone: roundShare(runsAlone),
    splits: splits.map((split) => ({
      practice: roundFigures(split.practice),
      runs: roundFigures(split.runs),
      chance: roundShare(split.chance),
    })),
  };
}

/** What to do, in one or two sentences, and which hours the answer is about. */
export function practiseOrRunText(report: PractiseOrRunReport): string {
  const { hours, from, practice, chance, asGood, runsAlone, planHours } = report;
  const about = from === 'asked' ? 'asked about' : 'that the week file gives in the weeks planned';
  const left = `Of the ${hoursText(hours)} ${about}`;
  if (hours === 0) return 'No time is left, for practice or for runs.';
  if (chance < practicallyNone)
    return `${left}, however many go into practice first, the chance to beat the target stays under 1 %.`;
  const most = Math.min(hours, planHours);
  if (asGood.from === 0 && asGood.to >= most)
    return `${left}, it makes no difference how many go into practice first: the chance to beat the target is ${percentInWords(chance)}.`;
  if (practice === 0)
    return (
      `${left}, use all for runs: the chance to beat the target is ${percentInWords(chance)}, and practice first does not raise it.` +
      (asGood.to > 0
        ? ` Up to ${hoursText(asGood.to)} of practice first lower that chance by less than one percentage point.`
        : '')
    );
  const range =
    asGood.from === asGood.to
      ? ''
      : ` From ${hoursText(asGood.from)} to ${hoursText(asGood.to)} of practice it is about as good.`;
  return (
    `${left}, practise ${hoursText(practice)} by the plan first and use the rest for runs: the chance to beat the target is ` +
    `${percentInWords(chance)}, with runs alone ${percentInWords(runsAlone)}.${range}` +
    (practice >= planHours ? ' The plan ends there; more practice may raise the chance further.' : '')
  );
}

/** The columns of the ways to divide the hours. */
export const splitColumns = ['Practice', 'Runs', 'Chance to beat it'] as const;

/** The rows; none where there is only one way. */
export function splitRows({ splits }: PractiseOrRunReport): string[][] {
  if (splits.length < 2) return [];
  return splits.map(({ practice, runs, chance }) => [
    hoursText(practice),
    hoursText(runs),
    formatPercent(chance),
  ]);
}

/** `0 h`, `30 min`, `12.5 h`. */
function hoursText(hours: number): string {
  return hours > 0 && hours < 1 ? formatHours(hours) : `${Number(hours.toFixed(1))} h`;
}
