import { resolve } from 'node:path';
import { isFailure } from '../../journal/failure.ts';
import type { Journal } from '../../journal/journal.ts';
import { newEntryLine } from '../../journal/newEntry.ts';
import { readNamedBytes } from '../project/readNamedBytes.ts';
import { describeWhole } from '../../logging/describeEntry.ts';
import { readLogText } from '../../journal/settlement.ts';
import type { LogTableProblem } from '../../logging/logTable.ts';
import { formatCount, formatList } from '../../text/format.ts';
import { exitCodes, printJson, printLines, printNotice } from '../terminal/io.ts';
import type { LogContext } from './logContext.ts';
import { dateOrders } from '../../tables/cellDates.ts';
import { separateDuplicates, type KnownLog } from '../../logging/tableRows.ts';
import { readTable } from './importedTable.ts';
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
  const table = await readTable(bytes, { columns: names, dates: order, cycles: target.cycles }, target);
  if ('problem' in table) {
    const place = table.line === undefined ? written : `${written}:${table.line}`;
    return refuseImport(context, `${place} cannot be read: ${table.problem}${optionFor(table)}.`);
  }
  if (table.problems.length > 0) {
    for (const { line, message } of table.problems.slice(0, maxProblemsShown))
      printNotice(io, `${written}:${line}  ${message}`);
    return refuseImport(context, `${formatCount(table.problems.length, 'row')} cannot be read.`);
  }
  const journal = table.kind === 'practice' ? context.journal : openRunsJournal(context);
  if ('message' in journal) return refuseImport(context, journal.message);
  try {
    const known = knownLog(journal, target.dayStarts);
    const { fresh, refused } = separateDuplicates(table.rows, known);
    const dry = request.switches.has('dry-run');
    const file = relativeNames(io.cwd)(uriOf(journal.path));
    if (!dry && fresh.length > 0) {
      const after = known.state?.lastLogged()?.id ?? '';
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
        ? fresh.map(({ line, local, entry }) => `  line ${line}: ${local}, ${describeWhole(entry)}`)
        : [];
      const verb = dry ? 'would be added to' : 'added to';
      const sum = `${formatCount(fresh.length, 'row')} ${verb} ${file}, ${formatCount(refused.length, 'row')} refused.`;
      printLines(io, [...rows, sum]);
    }
    if (!dry && fresh.length > 0)
      for (const sentence of await flushToSentences(io, journal, target)) printOutcome(io, json, sentence);
    return fresh.length > 0 ? exitCodes.fine : exitCodes.findings;
  } finally {
    if (journal !== context.journal) journal.close();
  }
}

function refuseImport({ io }: LogContext, sentence: string): number {
  printNotice(io, `${sentence} Nothing was added.`);
  return exitCodes.wrong;
}

/** The option that says what a table leaves open, to be written behind the problem; empty where no option does. */
function optionFor({ asks }: LogTableProblem): string {
  if (asks === undefined) return '';
  if (asks === 'date order') return `; say ${dateOrders.map((order) => `--dates ${order}`).join(' or ')}`;
  if (asks === 'date column') return ', or say which with --columns "HEADING=start"';
  return `: say it with --columns "${asks.column}=MEANING", or "${asks.column}=ignored" to leave it out`;
}

/** The saved log of a journal, with what the journal holds. */
function knownLog(journal: Journal, dayStarts: number): KnownLog {
  const bytes = readNamedBytes(journal.path);
  const text = bytes instanceof Uint8Array ? new TextDecoder().decode(bytes) : '';
  const pending = journal.pending('all');
  return {
    reading: readLogText(journal.path, text),
    state: isFailure(pending) ? undefined : pending.state,
    dayStarts,
    newId: () => journal.newId(),
  };
}
