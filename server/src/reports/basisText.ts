import { runnerDayOf, formatDate } from '../text/calendar.ts';
import { weekDefaults } from '../files/documents/weekDocument.ts';
import { formatCount } from '../text/format.ts';
import type { ModelInput } from '../queries/modelInput.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';

/** Why a report is for its day: it was asked for, it follows the last log entry, or it is today. */
export type DayReason = 'asked' | 'last' | 'today';

/** Whole sentences on the day that a report is for, and on the logs that it is based on. */
export function basisText(own: RunnerFiles, { asOfDay: day, logs }: ModelInput, why: DayReason): string {
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const before = ({ start }: { readonly start: Parameters<typeof runnerDayOf>[0] }) =>
    runnerDayOf(start, dayStarts) <= day;
  const blocks = own.practice
    .flatMap(({ document }) => document.sessions)
    .filter(before)
    .reduce((sum, session) => sum + session.blocks.length, 0);
  const runs = own.runs
    .flatMap(({ document }) => document.runs)
    .filter(before)
    .reduce((sum, { started }) => sum + started, 0);
  if (blocks === 0 && runs === 0) {
    const date =
      why === 'last'
        ? `There is no log that gives a date, so ${formatDate(day)} is taken`
        : `As of ${formatDate(day)}`;
    return `${date}. Nothing is logged yet, so the numbers rest on the difficulty ratings alone, and their ranges are wide.`;
  }
  const reason = { asked: ', as asked', last: ', the day after the last log entry', today: '' }[why];
  const rests = `It rests on ${formatCount(blocks, 'block')} of practice and ${formatCount(runs, 'run')}`;
  const unused =
    logs.practice.length + logs.runs.length === 0 ? ', none of them of a technique in this route' : '';
  return `For the morning of ${formatDate(day)}${reason}. ${rests}${unused}.`;
}
