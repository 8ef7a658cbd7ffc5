import { isFailure } from '../../journal/failure.ts';
import { newEntryLine } from '../../journal/newEntry.ts';
import { describeEntry } from '../../logging/describeEntry.ts';
import {
  readLogTable,
  type LogTable,
  type LogTableProblem,
  type RowProblem,
} from '../../logging/logTable.ts';
import { logVocabularyOf, nameIn } from '../../logging/logVocabulary.ts';
import { rowsOf, separateDuplicates, type Row } from '../../logging/tableRows.ts';
import { readSource } from '../../files/reading/reading.ts';
import type { LogEntryResult } from '../../protocol/messages/logEntry.ts';
import type { LogTableParams, LogTablePreview } from '../../protocol/messages/logTable.ts';
import { isRefusal, type Refusal } from '../../protocol/refusal.ts';
import { dayStartsOf } from '../../queries/dayStarts.ts';
import { maxTableLength } from '../../routeTables/pastedTable.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { dateOrders } from '../../tables/cellDates.ts';
import { formatCount, formatList } from '../../text/format.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import { resolveProject } from '../requests/resolveProject.ts';
import { loggedAnswer } from './blocks.ts';
import { entryLogOf, type EntryLog } from './logFile.ts';
import type { OpenLog, PracticeLogs } from './practiceLogs.ts';
import type { PracticeServices } from './practiceServices.ts';

/** How many entries, or places that cannot be read, are shown. */
const mostShown = 8;
/** Longest line of the preview; a cell may hold a whole page. */
const longestLine = 300;

/** What a table from the clipboard would add to the logs; nothing is written. */
export async function previewLogTable(
  services: PracticeServices,
  logs: PracticeLogs,
  params: LogTableParams,
): Promise<LogTablePreview> {
  const found = await understood(services, logs, params);
  if ('message' in found) return { ...nothing, message: line(found.message) };
  if ('problem' in found) return problemPreview(found);
  const { table, log, fresh, refused } = found;
  if (table.problems.length > 0) {
    return {
      ...nothing,
      message: `${formatCount(table.problems.length, 'row')} of the table cannot be read. Nothing was written.`,
      details: firstOf(table.problems.map(problemLine)),
    };
  }
  const into = fileName(log.uri);
  const left = leftOut(table, refused);
  if (fresh.length === 0)
    return { ...nothing, message: `Everything in the table is in ${into} already.`, details: left };
  const nameOf = nameIn(log.project);
  const rows = fresh.map(({ local, entry }) => `${local.replace('T', ' ')}: ${describeEntry(entry, nameOf)}`);
  return {
    ...nothing,
    message: `${countOf(table, fresh)}, ${spanOf(fresh)}.`,
    details: [...left, ...firstOf(rows)],
    into,
  };
}

/** Adds the rows of a table to the log: into its journal, and from there by one edit. */
export async function logTable(
  services: PracticeServices,
  logs: PracticeLogs,
  params: LogTableParams,
): Promise<LogEntryResult> {
  const found = await understood(services, logs, params);
  if ('message' in found) return found;
  if ('problem' in found) return { message: problemPreview(found).message };
  const { table, log, open, after, fresh } = found;
  if (table.problems.length > 0 || fresh.length === 0)
    return { message: 'The table has changed meanwhile: nothing was logged.' };
  if (log.begin) return { begin: log.begin };
  if (!open) return { message: 'Nothing was logged. The journal cannot be opened.' };
  const { journal } = open;
  const batch = `i-${journal.newId()}`;
  const failure = await journal.append(
    ...fresh.map(({ id, local, entry }) => newEntryLine(journal, id, local, entry, after, batch)),
  );
  if (failure) return { message: `Nothing was logged. The journal cannot be written: ${failure.reason}.` };
  for (const { id } of fresh) open.ownEntryIds.add(id);
  const result = await logs.flush(open);
  return loggedAnswer(batch, countOf(table, fresh), log.uri, result);
}

/** A table as it is understood, and the log that its rows go into. */
interface Understood {
  readonly table: LogTable;
  readonly log: EntryLog;
  /** Undefined where the log does not exist yet, or its journal cannot be opened. */
  readonly open: OpenLog | undefined;
  /** Id of the entry that was logged last; empty where there is none. */
  readonly after: string;
  readonly fresh: readonly Row[];
  readonly refused: readonly RowProblem[];
}

async function understood(
  services: PracticeServices,
  logs: PracticeLogs,
  { uri, text, ignored, dates }: LogTableParams,
): Promise<Understood | LogTableProblem | Refusal> {
  if (text.length > maxTableLength)
    return { message: 'The table is too long to be pasted: import it as a file.' };
  const resolved = resolveProject(services.workspace, normalUri(uri));
  if (isRefusal(resolved)) return resolved;
  const { project, own } = resolved;
  const cycles = Object.fromEntries(
    [...project.techniques].map(([id, { practice }]) => [id, practice.attempt + practice.reload]),
  );
  const columns = new Map(ignored.map((heading) => [heading, 'ignored']));
  const table = readLogTable(text, { columns, dates, cycles }, logVocabularyOf(project));
  if ('problem' in table) return table;
  const log = await entryLogOf(services, table.kind, uri);
  if (isRefusal(log)) return log;
  const opened = log.begin ? undefined : await logs.log(log.uri);
  const open = opened === undefined || isFailure(opened) ? undefined : opened;
  const reading = services.workspace.file(normalUri(log.uri))?.reading ?? readSource(table.kind, '');
  const rows = await rowsOf(table);
  const read = open?.journal.state('all');
  const state = read === undefined || isFailure(read) ? undefined : read;
  const known = { reading, state, dayStarts: dayStartsOf(own), newId: () => open?.journal.newId() ?? '' };
  return {
    ...{ table, log, open, after: state?.lastLogged()?.id ?? '' },
    ...separateDuplicates(rows, known),
  };
}

const nothing = { details: [], leaveOut: [], orders: [] } as const;

function problemPreview({ problem, line: at, asks }: LogTableProblem): LogTablePreview {
  const place = at === undefined ? '' : `Line ${at}: `;
  return {
    message: line(`The table cannot be read, and nothing was written. ${place}${problem}.`),
    details: [],
    leaveOut: typeof asks === 'object' ? [asks.column] : [],
    orders: asks === 'date order' ? dateOrders : [],
  };
}

function problemLine({ line: at, column, message }: RowProblem): string {
  return `Line ${at}${column === undefined ? '' : `, column ${column}`}: ${message}`;
}

/** What is not taken from a table that can be read. */
function leftOut({ unread }: LogTable, refused: readonly RowProblem[]): string[] {
  const more = refused.length - mostShown;
  const rows = refused.slice(0, mostShown).map(({ line: at, message }) => `line ${at} (${message})`);
  return [
    ...(unread.length > 0 ? [`Nothing is read from: ${formatList(unread)}.`] : []),
    ...(rows.length > 0
      ? [`Left out: ${formatList([...rows, ...(more > 0 ? [`${more} more`] : [])])}.`]
      : []),
  ].map(line);
}

function countOf({ kind }: LogTable, { length }: readonly Row[]): string {
  return formatCount(length, kind === 'practice' ? 'block' : 'run');
}

function spanOf(rows: readonly Row[]): string {
  const days = rows.map(({ local }) => local.slice(0, 10)).sort();
  const [first, last] = [days[0]!, days.at(-1)!];
  return first === last ? `all on ${first}` : `from ${first} to ${last}`;
}

function firstOf(lines: readonly string[]): string[] {
  const more = lines.length - mostShown;
  return [...lines.slice(0, mostShown), ...(more > 0 ? [`And ${more} more.`] : [])].map(line);
}

function line(text: string): string {
  const plain = sanitizeForTerminal(text);
  return plain.length > longestLine ? `${plain.slice(0, longestLine - 1)}…` : plain;
}
