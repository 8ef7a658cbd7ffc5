import { isFailure } from '../../journal/failure.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import { newEntryId, newEntryLine } from '../../journal/newEntry.ts';
import { describeEntry } from '../../logging/describeEntry.ts';
import { logVocabularyOf, nameIn, type WritingProblem } from '../../logging/logVocabulary.ts';
import { blockEntry, readBlock, splitResult, type BlockNumbers } from '../../logging/readBlock.ts';
import { readRun, timesInOrder, type ReadRun } from '../../logging/readRun.ts';
import type { LogBlockParams, LogRunParams, LogEntryResult } from '../../protocol/messages/logEntry.ts';
import type { Project } from '../../workspace/project.ts';
import { normalUri } from '../documents/uris.ts';
import { techniqueOf } from '../requests/resolveProject.ts';
import { describeOutcome } from './blocks.ts';
import type { PracticeLogs } from './practiceLogs.ts';
import type { PracticeServices } from './practiceServices.ts';

/** Logs a block that was practised elsewhere; or says which part of the input is wrong. */
export async function logBlock(
  services: PracticeServices,
  logs: PracticeLogs,
  params: LogBlockParams,
): Promise<LogEntryResult> {
  const project = services.workspace.projectOf(normalUri(params.uri));
  if (!project) return { message: 'The practice file belongs to no route that is open.' };
  const named = techniqueOf(project, params.technique);
  if ('message' in named) return named;
  const numbers = readBlockForm(params);
  if ('problem' in numbers) return { message: numbers.problem };
  if (params.dry) return { id: null, said: '' };
  const { attempt, reload } = named.definition.practice;
  const entry = blockEntry(named.id, numbers, attempt + reload);
  return logCompleteEntry(logs, project, params.uri, 'block', entry, entry.minutes * 60);
}

/** Logs a run; or says which part of the input is wrong. */
export async function logRun(
  services: PracticeServices,
  logs: PracticeLogs,
  params: LogRunParams,
): Promise<LogEntryResult> {
  const project = services.workspace.projectOf(normalUri(params.uri));
  if (!project) return { message: 'The runs file belongs to no route that is open.' };
  const run = readRunForm(project, params);
  if ('problem' in run) return { message: run.problem };
  if (params.dry) return { id: null, said: '' };
  return logCompleteEntry(logs, project, params.uri, 'run', run.entry, run.seconds);
}

function readBlockForm({ minutes, result }: LogBlockParams): BlockNumbers | WritingProblem {
  const counted = splitResult(result);
  return 'problem' in counted ? counted : readBlock({ minutes, ...counted });
}

function readRunForm(
  project: Project,
  { total, times, landed, missed, ended }: LogRunParams,
): ReadRun | WritingProblem {
  const words = logVocabularyOf(project);
  const ordered = timesInOrder(times, words);
  if ('problem' in ordered) return ordered;
  return readRun(
    {
      total: total.trim() === '' ? undefined : total.trim(),
      times: ordered,
      tried: [...landed.map((id) => `${id}=1/1`), ...missed.map((id) => `${id}=0/1`)],
      ended: ended ? [ended.at, ended.why, ...(ended.by === null ? [] : [ended.by])].join(':') : undefined,
    },
    words,
  );
}

/**
 * Writes an entry into the journal and puts it into its file by an edit.
 *
 * @param seconds how long it lasted until now
 */
async function logCompleteEntry(
  logs: PracticeLogs,
  project: Project,
  uri: string,
  kind: 'block' | 'run',
  written: LogEntry,
  seconds: number,
): Promise<LogEntryResult> {
  const log = await logs.log(uri);
  if (isFailure(log)) return { message: `Nothing was logged. The journal cannot be opened: ${log.reason}.` };
  const { journal } = log;
  const state = journal.state();
  if (isFailure(state))
    return { message: `Nothing was logged. The journal cannot be read: ${state.reason}.` };
  const id = newEntryId(kind, () => journal.newId());
  const local = journal.clock.local(journal.clock.now() - seconds * 1000);
  const entry = kind === 'run' ? { start: local, ...written } : written;
  const failure = await journal.append(newEntryLine(journal, id, local, entry, state.lastLogged()?.id ?? ''));
  if (failure) return { message: `Nothing was logged. The journal cannot be written: ${failure.reason}.` };
  log.ownEntryIds.add(id);
  const result = await logs.flush(log);
  return { id, said: `Logged: ${describeEntry(entry, nameIn(project))}. ${describeOutcome(uri, result)}` };
}
