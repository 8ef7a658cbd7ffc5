import { exitCodes, printJson, printLines } from '../terminal/io.ts';
import { isFailure } from '../../journal/failure.ts';
import type { Journal } from '../../journal/journal.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import { newEntryId, newEntryLine } from '../../journal/newEntry.ts';
import { describeEntry } from '../../logging/describeEntry.ts';
import { nameAmong } from '../../logging/logVocabulary.ts';
import { blockEntry } from '../../logging/readBlock.ts';
import type { LogContext } from './logContext.ts';
import { flushToSentences, printOutcome } from './flush.ts';
import { notLogged, syncOrWarn } from './logLive.ts';
import type { LogAction } from './logRequest.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';

type BlockAction = Extract<LogAction, { readonly kind: 'block' }>;

/** Logs a whole block: its attempts one by one, its counts, or its minutes only. Returns the exit code. */
export async function logBlock(
  context: LogContext,
  { numbers }: BlockAction,
  technique: string,
): Promise<number> {
  const { request, target, clock } = context;
  const cycle = target.cycles[technique] ?? 0;
  const entry = blockEntry(technique, numbers, cycle, request.values.get('on'));
  const { minutes } = entry;
  const start = request.values.get('at') ?? clock.local(clock.now() - minutes * 60_000);
  // Where no minutes are given, the attempts and the cycle of the technique give the best estimate.
  const note =
    numbers.minutes === undefined ? `Taken to have lasted ${minutes} min, ${cycle} s an attempt.` : '';
  return logEntry(context, context.journal, 'block', start.replace(' ', 'T'), entry, { note });
}

/** Logs a whole entry: into the journal first, then into its file. */
export async function logEntry(
  { io, target, json }: LogContext,
  journal: Journal,
  kind: 'block' | 'run',
  local: string,
  entry: LogEntry,
  { note = '', id = newEntryId(kind, journal.newId) } = {},
): Promise<number> {
  const before = journal.pending();
  const after = isFailure(before) ? '' : (before.state.lastLogged()?.id ?? '');
  const failure = journal.append(newEntryLine(journal, id, local, entry, after));
  if (failure) return notLogged({ io, journal }, failure.reason);
  syncOrWarn({ io, journal });
  const file = relativeNames(io.cwd)(uriOf(journal.path));
  if (json) printJson(io, { entry: { id, start: local, ...entry }, file });
  else
    printLines(io, [`Logged: ${describeEntry(entry, nameAmong(target))}.${note === '' ? '' : ` ${note}`}`]);
  for (const sentence of await flushToSentences(io, journal, target)) printOutcome(io, json, sentence);
  return exitCodes.fine;
}
