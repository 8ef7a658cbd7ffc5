import { runnerDayOf, formatDate } from '../text/calendar.ts';
import { dayStartsOf } from '../queries/dayStarts.ts';
import { countingLogsText } from '../queries/whoseLogs.ts';
import { formatCount } from '../text/format.ts';
import { othersBasis } from './othersText.ts';
import type { AnswerDay, DayReason } from '../queries/answerDay.ts';
import type { ModelInput } from '../queries/modelInput.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';

/** From so many days on, an answer for today says how old the last log entry is. */
const oldEntryDays = 7;

/** `The answer is for the morning of 2026-11-09, the day after the last log entry.`: whole sentences on its day. */
export function dayText({ day, reason, lastLogged }: AnswerDay): string {
  const because: Readonly<Record<DayReason, string>> = {
    asked: ', as asked',
    last: ', the day after the last log entry',
    today: ', today',
  };
  const age = lastLogged === undefined ? 0 : day - lastLogged;
  const old = reason === 'today' && age >= oldEntryDays ? ` The last log entry is ${age} days old.` : '';
  return `The answer is for the morning of ${formatDate(day)}${because[reason]}.${old}`;
}

/** Whole sentences on the day that a report is for, on the logs that it is based on and, among several runners, whose they are. */
export function basisText(own: RunnerFiles, modelInput: ModelInput, answerDay: AnswerDay): string {
  const { logs } = modelInput;
  const { day } = answerDay;
  const dayStarts = dayStartsOf(own);
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
  const counting = countingLogsText(own);
  const others = othersBasis(modelInput);
  const whose = [others, counting].map((text) => (text === undefined ? '' : ` ${text}`)).join('');
  if (blocks === 0 && runs === 0)
    return `The answer is for the morning of ${formatDate(day)}. Nothing is logged yet, so the numbers rest on the difficulty ratings${others === undefined ? ' alone' : ''} and their ranges are wide.${whose}`;
  const rests = `It rests on ${formatCount(blocks, 'block')} of practice and ${formatCount(runs, 'run')}`;
  const unused =
    logs.practice.length + logs.runs.length === 0 ? ', none of them of a technique in this route' : '';
  return `${dayText(answerDay)} ${rests}${unused}.${whose}`;
}
