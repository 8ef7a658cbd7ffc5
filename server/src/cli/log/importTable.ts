import { resolve } from 'node:path';
import { runnerDayOf, parseMoment } from '../../text/calendar.ts';
import { isFailure } from '../../journal/failure.ts';
import type { Journal } from '../../journal/journal.ts';
import { newEntryLine } from '../../journal/newEntry.ts';
import { readNamedBytes } from '../project/readNamedBytes.ts';
import { describeEntry } from '../../logging/describeEntry.ts';
import { readSource } from '../../files/reading/reading.ts';
import { logEntryIds } from '../../journal/logEntries.ts';
import { formatCount, formatList } from '../../text/format.ts';
import { exitCodes, printJson, printLines, printNotice } from '../terminal/io.ts';
import type { LogContext } from './logContext.ts';
import { dateOrders } from '../../tables/cellDates.ts';
import type { RowProblem } from '../../logging/logTable.ts';
import { readTable, type Row } from './importedTable.ts';
import { flushToSentences, printOutcome } from './flush.ts';
import { openRunsJournal } from './runsJournal.ts';
import { columnsOption } from '../terminal/optionValues.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';

/** Problems that are listed one by one. Where every row is wrong, all rows have mostly the same problem. */
const maxProblemsShown = 10;

/** Adds the rows of a table to the log. Rows that the log contains already are rejected. Returns the exit code. */
export async function logImport(context: LogContext, written: string): Promise<number> {
  const { io, request, target, json } = context;
  const bytes = readNamedBytes(resolve(io.cwd, written));
  if (!(bytes instanceof Uint8Array))
    return refuseImport(context, `${written} cannot be read: ${bytes.reason}.`);
  const dates = request.values.get('dates');
  const order = dateOrders.find((one) => one === dates);
  if (dates !== undefined && order === undefined)
    return refuseImport(context, `--dates is ${dateOrders.join(' or ')}, not ${dates}.`);
  const names = columnsOption(request);
  if (typeof names === 'string') return refuseImport(context, names);
  const table = readTable(bytes, { columns: names, dates: order, cycles: target.cycles }, target);
  if ('problem' in table) {
    const place = table.line === undefined ? written : `${written}:${table.line}`;
    return refuseImport(context, `${place} cannot be read: ${table.problem}.`);
  }
  if (table.problems.length > 0) {
    for (const { line, message } of table.problems.slice(0, maxProblemsShown))
      printNotice(io, `${written}:${line}  ${message}`);
    return refuseImport(context, `${formatCount(table.problems.length, 'row')} cannot be read.`);
  }
  const journal = table.kind === 'practice' ? context.journal : openRunsJournal(context);
  if ('message' in journal) return refuseImport(context, journal.message);
  try {
    const { fresh, refused } = separateDuplicates(table.rows, journal, target.dayStarts);
    const dry = request.switches.has('dry-run');
    const file = relativeNames(io.cwd)(uriOf(journal.path));
    if (!dry && fresh.length > 0) {
      const pending = journal.pending();
      const after = isFailure(pending) ? '' : (pending.state.lastLogged()?.id ?? '');
      const batch = `i-${journal.newId()}`;
      const failure = journal.append(
        ...fresh.map(({ id, local, entry }) => newEntryLine(journal, id, local, entry, after, batch)),
      );
      if (failure)
        return refuseImport(
          context,
          `The journal in ${journal.folder} cannot be written: ${failure.reason}.`,
        );
      journal.sync();
    }
    for (const { line, message } of refused.slice(0, maxProblemsShown))
      printNotice(io, `${written}:${line}  ${message}`);
    if (refused.length > maxProblemsShown)
      printNotice(io, `And ${formatCount(refused.length - maxProblemsShown, 'more row')}.`);
    if (table.unread.length > 0) printNotice(io, `Nothing is read from: ${formatList(table.unread)}.`);
    if (json) {
      const added = fresh.map(({ line, id, local, entry }) => ({ line, id, start: local, ...entry }));
      printJson(io, { file, dryRun: dry, added, refused });
    } else {
      const rows = dry
        ? fresh.map(({ line, local, entry }) => `  line ${line}: ${local}, ${describeEntry(entry)}`)
        : [];
      const verb = dry ? 'would be added to' : 'added to';
      const sum = `${formatCount(fresh.length, 'row')} ${verb} ${file}, ${formatCount(refused.length, 'row')} refused.`;
      printLines(io, [...rows, sum]);
    }
    if (!dry && fresh.length > 0)
      for (const sentence of await flushToSentences(io, journal, target.dayStarts))
        printOutcome(io, json, sentence);
    return fresh.length > 0 ? exitCodes.fine : exitCodes.findings;
  } finally {
    if (journal !== context.journal) journal.close();
  }
}

function refuseImport({ io }: LogContext, sentence: string): number {
  printNotice(io, `${sentence} Nothing was added.`);
  return exitCodes.wrong;
}

/** Separates new rows from those that are already in the log, in its journal or earlier in the table. */
function separateDuplicates(
  rows: readonly Row[],
  journal: Journal,
  dayStarts: number,
): { readonly fresh: readonly Row[]; readonly refused: readonly RowProblem[] } {
  const bytes = readNamedBytes(journal.path);
  const reading = readSource(
    journal.path.includes('.runs.') ? 'runs' : 'practice',
    bytes instanceof Uint8Array ? new TextDecoder().decode(bytes) : '',
  );
  const pending = journal.pending();
  const state = isFailure(pending) ? undefined : pending.state;
  const ids = new Set([
    ...logEntryIds(reading),
    ...(state?.open.flatMap(({ id, gone }) => (gone ? [] : [id])) ?? []),
    ...[...(state?.sealed ?? [])].flatMap(([id, { seal, state: at }]) =>
      at === 'sealed' && !seal.gone && !state?.undoneAfterSeal.has(id) ? [id] : [],
    ),
  ]);
  // Ids that cannot be used again, because their entries were taken back or deleted: the same row needs another id.
  const unusableIds = new Set([...(state?.open.map(({ id }) => id) ?? []), ...(state?.sealed.keys() ?? [])]);
  const contents = new Set(contentKeys(reading.value, dayStarts));
  const seen = new Map<string, number>();
  const fresh: Row[] = [];
  const refused: RowProblem[] = [];
  for (const row of rows) {
    const earlier = seen.get(row.id);
    if (earlier !== undefined) refused.push({ line: row.line, message: `the same as line ${earlier}` });
    else if (ids.has(row.id) || contents.has(contentKey(row.local, row.entry, dayStarts)))
      refused.push({ line: row.line, message: 'stands in the log already' });
    else
      fresh.push(
        unusableIds.has(row.id)
          ? { ...row, id: `${row.id.slice(0, 2)}${journal.newId().slice(0, 12)}` }
          : row,
      );
    if (earlier === undefined) seen.set(row.id, row.line);
  }
  return { fresh, refused };
}

/** Keys of the contents of a log's entries, each with its day. */
function contentKeys(value: Readonly<Record<string, unknown>>, dayStarts: number): string[] {
  const list = (entries: unknown) => (Array.isArray(entries) ? (entries as Record<string, unknown>[]) : []);
  const blocks = list(value.sessions).flatMap((session) =>
    list(session.blocks).map((block) => contentKey(String(session.start), block, dayStarts)),
  );
  return [...blocks, ...list(value.runs).map((run) => contentKey(String(run.start), run, dayStarts))];
}

/** A key that is equal for entries of one day with the same content. A run's start is part of its content. */
function contentKey(start: string, entry: Readonly<Record<string, unknown>>, dayStarts: number): string {
  const moment = parseMoment(start);
  const day = moment && runnerDayOf(moment, dayStarts);
  const keys = Object.keys(entry).filter((key) => key !== 'id' && key !== 'notes' && !key.startsWith('x-'));
  return JSON.stringify([day, ...keys.sort().map((key) => [key, entry[key]])]);
}
