import { exitCodes, printJson, printNotice } from '../terminal/io.ts';
import { newEntryId, newEntryLine, type Journal } from '../../journal/journal.ts';
import { isFailure } from '../../journal/failure.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import type { LogContext } from './log.ts';
import { describeEntry, foldToSentences } from './fold.ts';
import { notLogged, syncOrTell } from './logLive.ts';
import type { LogAction } from './logRequest.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';

type BlockAction = Extract<LogAction, { readonly kind: 'block' }>;

/** Logs a block that was counted, taped or only timed. Returns the exit code. */
export async function logBlock(place: LogContext, action: BlockAction, technique: string): Promise<number> {
  const { request, target, clock } = place;
  const { counts, tape } = action;
  const tries = counts?.[1] ?? tape?.length ?? 0;
  const cycle = target.cycles[technique] ?? 0;
  // Where nobody timed it, the attempts and the way back tell best.
  const minutes = action.minutes ?? Math.max(0.1, Math.round((tries * cycle) / 6) / 10);
  const on = request.values.get('on');
  const entry: LogEntry = {
    technique,
    minutes,
    ...(counts && { landed: counts }),
    ...(tape !== undefined && { tape }),
    ...(on !== undefined && { on }),
  };
  const start = request.values.get('at') ?? clock.local(clock.now() - minutes * 60_000);
  const note =
    action.minutes === undefined ? `Taken to have lasted ${minutes} min, ${cycle} s an attempt.` : '';
  return logEntry(place, place.journal, 'block', start.replace(' ', 'T'), entry, { note });
}

/** Logs an entry whole: into the journal first, then into its file. */
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
  syncOrTell({ io, journal });
  const file = relativeNames(io.cwd)(uriOf(journal.path));
  if (json) printJson(io, { entry: { id, start: local, ...entry }, file });
  else io.stdout.write(`Logged: ${describeEntry({ entry })}.${note === '' ? '' : ` ${note}`}\n`);
  for (const sentence of await foldToSentences(io, journal, target.dayStarts)) {
    if (json) printNotice(io, sentence);
    else io.stdout.write(`${sentence}\n`);
  }
  return exitCodes.fine;
}
