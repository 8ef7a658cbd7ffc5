import { newEntryId } from '../../journal/newEntry.ts';
import type { WritingProblem } from '../../logging/logVocabulary.ts';
import { readRun, splitTime, type ReadRun, type WrittenTime } from '../../logging/readRun.ts';
import { exitCodes, printNotice } from '../terminal/io.ts';
import type { LogContext } from './logContext.ts';
import { logEntry } from './logEntry.ts';
import { openRunsJournal } from './runsJournal.ts';

/** Logs one run: its total or its times, the techniques tried, where it ended. Returns the exit code. */
export async function logRun(context: LogContext): Promise<number> {
  const { io, request, clock } = context;
  const run = readRunRequest(context);
  if ('problem' in run) {
    printNotice(io, `${run.problem} Nothing was logged.`);
    return exitCodes.wrong;
  }
  const journal = openRunsJournal(context);
  if ('message' in journal) {
    printNotice(io, `${journal.message} Nothing was logged.`);
    return exitCodes.wrong;
  }
  const start = request.values.get('at')?.replace(' ', 'T') ?? clock.local(clock.now() - run.seconds * 1000);
  const id = newEntryId('run', journal.newId);
  try {
    const code = await logEntry(context, journal, 'run', start, { start, ...run.entry }, { id });
    if (code === exitCodes.fine && !context.json)
      await (await import('./runChange.ts')).printRunChange(context, id);
    return code;
  } finally {
    journal.close();
  }
}

function readRunRequest({ request: { values, lists }, target }: LogContext): ReadRun | WritingProblem {
  const times: WrittenTime[] = [];
  for (const part of lists.get('times') ?? []) {
    const time = splitTime(part);
    if ('problem' in time) return time;
    times.push(time);
  }
  const [total, ended, on] = ['total', 'ended', 'on'].map((name) => values.get(name));
  return readRun({ total, times, tried: lists.get('tried') ?? [], ended, on }, target);
}
