import { isFailure } from '../../journal/failure.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import { newEntryId, newEntryLine } from '../../journal/newEntry.ts';
import { describeEntry } from '../../logging/describeEntry.ts';
import { logVocabularyOf, nameIn, type WritingProblem } from '../../logging/logVocabulary.ts';
import { blockEntry, readBlock, splitResult, type BlockNumbers } from '../../logging/readBlock.ts';
import { readEvening } from '../../logging/readEvening.ts';
import { readRun, type ReadRun } from '../../logging/readRun.ts';
import type {
  LogBlockParams,
  LogEntryResult,
  LogEveningParams,
  LogRunParams,
} from '../../protocol/messages/logEntry.ts';
import { isRefusal, type Refusal } from '../../protocol/refusal.ts';
import { parseMoment } from '../../text/calendar.ts';
import type { Project } from '../../workspace/project.ts';
import { techniqueOf } from '../requests/resolveProject.ts';
import { loggedAnswer } from './blocks.ts';
import { entryLogOf, type EntryLog } from './logFile.ts';
import type { PracticeLogs } from './practiceLogs.ts';
import type { PracticeServices } from './practiceServices.ts';

/** Logs a block that was practised elsewhere; or says which part of the input is wrong. */
export async function logBlock(
  services: PracticeServices,
  logs: PracticeLogs,
  params: LogBlockParams,
): Promise<LogEntryResult> {
  const log = await entryLogOf(services, 'practice', params.uri);
  if (isRefusal(log)) return log;
  const { project } = log;
  const named = techniqueOf(project, params.technique);
  if (isRefusal(named)) return named;
  const numbers = readBlockForm(params);
  if ('problem' in numbers) return { message: numbers.problem };
  const begins = readBlockBegin(params.start);
  if (begins && isRefusal(begins)) return begins;
  if (params.dry) return { id: null, said: '', outcome: '' };
  const { attempt, reload } = named.definition.practice;
  const entry = blockEntry(named.id, numbers, attempt + reload);
  return logCompleteEntry(logs, log, 'block', entry, begins ?? { secondsAgo: entry.minutes * 60 });
}

/** Logs a run; or says which part of the input is wrong. */
export async function logRun(
  services: PracticeServices,
  logs: PracticeLogs,
  params: LogRunParams,
): Promise<LogEntryResult> {
  const log = await entryLogOf(services, 'runs', params.uri);
  if (isRefusal(log)) return log;
  const run = readRunForm(log.project, params);
  if ('problem' in run) return { message: run.problem };
  const start = params.start.trim();
  if (start !== '' && parseMoment(start)?.minute === undefined)
    return { message: `A run begins at a date and a time such as 2026-10-04T16:34, not ${start}.` };
  const begins = start === '' ? { secondsAgo: run.seconds } : { local: start };
  return logCompleteEntry(logs, log, 'run', run.entry, begins);
}

/** Logs an evening of runs in short; or says which part of the input is wrong. */
export async function logEvening(
  services: PracticeServices,
  logs: PracticeLogs,
  params: LogEveningParams,
): Promise<LogEntryResult> {
  const log = await entryLogOf(services, 'runs', params.uri);
  if (isRefusal(log)) return log;
  const evening = readEvening(params, logVocabularyOf(log.project));
  if ('problem' in evening) return { message: evening.problem };
  return logCompleteEntry(logs, log, 'evening', evening.entry, { local: evening.date });
}

function readBlockForm({ minutes, result }: LogBlockParams): BlockNumbers | WritingProblem {
  const counted = splitResult(result);
  return 'problem' in counted ? counted : readBlock({ minutes, ...counted });
}

/** When a block began, as written: a day, or a day and a time; null where it ends now. */
function readBlockBegin(written: string): Begin | Refusal | null {
  const start = written.trim().replace(/^(\d{4}-\d\d-\d\d) +/, '$1T');
  if (start === '') return null;
  if (parseMoment(start) === undefined)
    return {
      message: `A block begins at a day such as 2026-10-04, or 2026-10-04T19:30, not ${written.trim()}.`,
    };
  return { local: start };
}

function readRunForm(
  project: Project,
  { total, times, tried, ended, on }: LogRunParams,
): ReadRun | WritingProblem {
  return readRun(
    {
      total: total.trim() === '' ? undefined : total.trim(),
      times: times.map(({ segment, time }) => ({ segment, time: time.trim() })),
      tried: tried.map(({ use, landed, tries }) => `${use}=${landed}/${tries}`),
      ended: ended ? [ended.at, ended.why, ...(ended.by === null ? [] : [ended.by])].join(':') : undefined,
      on: on.trim() === '' ? undefined : on.trim(),
    },
    logVocabularyOf(project),
  );
}

/** When an entry began: so many seconds ago, or at a date or a date and a time. */
type Begin = { readonly secondsAgo: number } | { readonly local: string };

/** Writes an entry into the journal and puts it into its file by an edit; does neither where there is no file yet. */
async function logCompleteEntry(
  logs: PracticeLogs,
  { project, uri, begin }: EntryLog,
  kind: 'block' | 'run' | 'evening',
  written: LogEntry,
  begins: Begin,
): Promise<LogEntryResult> {
  const { clock } = logs;
  const now = clock.now();
  const local = 'local' in begins ? begins.local : clock.local(now - begins.secondsAgo * 1000);
  // Said before a log is begun for it, which would stay empty.
  if (local > clock.local(now).slice(0, local.length))
    return { message: `${local} is still to come by this computer's clock, so nothing was logged.` };
  if (begin) return { begin };
  const log = await logs.log(uri);
  if (isFailure(log)) return { message: `Nothing was logged. The journal cannot be opened: ${log.reason}.` };
  const { journal } = log;
  const state = journal.state();
  if (isFailure(state))
    return { message: `Nothing was logged. The journal cannot be read: ${state.reason}.` };
  const id = newEntryId(kind === 'block' ? 'block' : 'run', () => journal.newId());
  const entry = kind === 'run' ? { start: local, ...written } : written;
  const failure = await journal.append(newEntryLine(journal, id, local, entry, state.lastLogged()?.id ?? ''));
  if (failure) return { message: `Nothing was logged. The journal cannot be written: ${failure.reason}.` };
  log.ownEntryIds.add(id);
  const result = await logs.flush(log);
  return loggedAnswer(id, describeEntry(entry, nameIn(project)), uri, result);
}
