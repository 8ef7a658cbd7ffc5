import { parseTime, formatTime } from '../../text/time.ts';
import { isFailure } from '../../journal/failure.ts';
import type { LogEntry, EntryLine } from '../../journal/journalLines.ts';
import type { LogBlockParams, LogRunParams, LogEntryResult } from '../../protocol/practice.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import { normalUri } from '../documents/openDocuments.ts';
import { describeOutcome } from './blocks.ts';
import type { PracticeLogs } from './practiceLogs.ts';
import { describeEntry } from './describeEntry.ts';
import type { Session } from '../server/session.ts';

/** Logs a block that was practised elsewhere; or says what is wrong with how it is written. */
export async function logBlock(
  session: Session,
  logs: PracticeLogs,
  params: LogBlockParams,
): Promise<LogEntryResult> {
  const project = session.workspace.projectOf(normalUri(params.uri));
  const technique = project && currentTechniqueId(project, params.technique);
  if (!project || technique === undefined)
    return { message: `The route has no technique ${sanitizeForTerminal(params.technique)}.` };
  const entry = blockEntry(technique, params);
  if (typeof entry === 'string') return { message: entry };
  if (params.dry) return { id: null, said: '' };
  const { minutes } = entry;
  return logCompleteEntry(
    logs,
    project,
    params.uri,
    'b',
    entry,
    typeof minutes === 'number' ? minutes * 60 : 0,
  );
}

/** Logs a run; or says what is wrong with how it is written. */
export async function logRun(
  session: Session,
  logs: PracticeLogs,
  params: LogRunParams,
): Promise<LogEntryResult> {
  const project = session.workspace.projectOf(normalUri(params.uri));
  if (!project) return { message: 'The runs file belongs to no route that is open.' };
  const run = runEntry(project, params);
  if (typeof run === 'string') return { message: run };
  if (params.dry) return { id: null, said: '' };
  return logCompleteEntry(logs, project, params.uri, 'r', run.entry, run.seconds);
}

/** A block as it is to stand in the file, or what is wrong, in a sentence. */
function blockEntry(technique: string, { minutes: written, result }: LogBlockParams): LogEntry | string {
  const time = parseTime(written);
  const minutes = time === undefined ? NaN : written.includes(':') ? time / 60 : time;
  if (!(minutes > 0 && minutes <= 1440)) return 'Minutes are a number such as 25.';
  const entry = { technique, minutes: Math.round(10 * minutes) / 10 };
  const text = result.trim().toLowerCase();
  if (text === '') return entry;
  if (/^[lm]+$/.test(text)) return { ...entry, tape: text };
  const [, landed, tries] = /^(\d{1,6})\s*(?:\/|of|\s)\s*(\d{1,6})$/.exec(text) ?? [];
  if (landed === undefined || tries === undefined)
    return 'Landed and tries such as 12/20, or one letter an attempt such as lmmlll.';
  if (Number(landed) > Number(tries)) return `Of ${tries} tries no more than ${tries} can land.`;
  return { ...entry, landed: [Number(landed), Number(tries)] };
}

/** A run as it is to stand in the file and its length in seconds, or what is wrong, in a sentence. */
function runEntry(
  project: Project,
  { total, times, landed, missed, ended }: LogRunParams,
): { readonly entry: LogEntry; readonly seconds: number } | string {
  const whole = total.trim();
  const seconds = whole === '' ? undefined : parseTime(whole);
  if (whole !== '' && !(seconds !== undefined && seconds > 0)) return 'A time such as 41:30.2.';
  const words = times.split(/[\s,]+/).filter((word) => word !== '');
  if (words.length > project.segments.length)
    return `The route has ${project.segments.length} segments; these are ${words.length} times.`;
  const bySegment: Record<string, string> = {};
  let sum = 0;
  for (const [index, word] of words.entries()) {
    if (/^[-–—]$/.test(word)) continue;
    const time = parseTime(word);
    const segment = project.segments[index]!;
    if (!(time !== undefined && time > 0)) return `${word} is no time, such as 1:31.8, of ${segment.name}.`;
    bySegment[segment.id] = spelled(word, time);
    sum += time;
  }
  const hasTimes = Object.keys(bySegment).length > 0;
  if (seconds === undefined && !hasTimes && ended === null)
    return 'Of a run, its total, its times or where it ended.';
  const tried: Record<string, readonly [number, number]> = {};
  for (const id of landed) tried[id] = [1, 1];
  for (const id of missed) tried[id] = [0, 1];
  const entry: LogEntry = {
    ...(seconds !== undefined && { total: spelled(whole, seconds) }),
    ...(hasTimes && { times: bySegment }),
    ...(landed.length + missed.length > 0 && { tried }),
    ...(ended && { ended: { at: ended.at, why: ended.why, ...(ended.by !== null && { by: ended.by }) } }),
  };
  return { entry, seconds: seconds ?? sum };
}

/** As it was written; a bare number of seconds as a clock shows it, since a number is no text. */
function spelled(written: string, seconds: number): string {
  return written.includes(':') || seconds < 60 ? written : formatTime(seconds);
}

/**
 * Writes an entry into the journal and puts it into its file by an edit.
 *
 * @param seconds for which it went on until now
 */
async function logCompleteEntry(
  logs: PracticeLogs,
  project: Project,
  uri: string,
  letter: 'b' | 'r',
  said: LogEntry,
  seconds: number,
): Promise<LogEntryResult> {
  const log = await logs.log(uri);
  if (isFailure(log)) return { message: `Nothing was logged. The journal cannot be opened: ${log.reason}.` };
  const { journal } = log;
  const state = journal.state();
  if (isFailure(state))
    return { message: `Nothing was logged. The journal cannot be read: ${state.reason}.` };
  const at = journal.clock.now();
  const id = `${letter}-${journal.newId().slice(0, 12)}`;
  const local = journal.clock.local(at - seconds * 1000);
  const entry = letter === 'r' ? { start: local, ...said } : said;
  const line: EntryLine = { kind: 'entry', id, at, local, entry, after: state.lastLogged()?.id ?? '' };
  const failure = await journal.append(line);
  if (failure) return { message: `Nothing was logged. The journal cannot be written: ${failure.reason}.` };
  log.ownEntryIds.add(id);
  const result = await logs.fold(log);
  const nameOf = (technique: string): string => project.techniques.get(technique)?.name ?? technique;
  return { id, said: `Logged: ${describeEntry(entry, nameOf)}. ${describeOutcome(uri, result)}` };
}
