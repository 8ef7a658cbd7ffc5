import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { dayOf, parseMoment } from '../../text/calendar.ts';
import { failureOf, isFailure } from '../../journal/failure.ts';
import { entryLine, type Journal } from '../../journal/journal.ts';
import { read } from '../../files/yaml/reading.ts';
import { idsOf } from '../../journal/logEntries.ts';
import { counted, listed } from '../../text/format.ts';
import { plainText } from '../../text/terminalText.ts';
import { exit, printJson, tell } from '../terminal/io.ts';
import type { LogPlace } from './log.ts';
import { readTable, type Row, type RowProblem } from './importedTable.ts';
import { described, folded } from './fold.ts';
import { runsJournal } from './logRun.ts';
import { nameFrom, uriOf } from '../terminal/paths.ts';

/** Problems told one by one; a table in which everything is wrong is wrong in one way. */
const toldProblems = 10;

/** Adds the rows of a table to the log. Rows that stand there already are refused. Returns the exit code. */
export async function logImport(place: LogPlace, written: string): Promise<number> {
  const { io, request, target, state, json } = place;
  const text = readText(resolve(io.cwd, written));
  if (typeof text !== 'string') return wrong(place, `${plainText(written)} cannot be read: ${text.reason}.`);
  const names = new Map<string, string>();
  for (const pair of request.lists.get('columns') ?? []) {
    const at = pair.lastIndexOf('=');
    if (at < 1)
      return wrong(
        place,
        `--columns needs a name and what it holds, such as "Trick=technique", not ${pair}.`,
      );
    names.set(pair.slice(0, at).trim(), pair.slice(at + 1).trim());
  }
  const table = readTable(text, names, target);
  if (typeof table === 'string')
    return wrong(place, `${plainText(written)} cannot be read: ${plainText(table)}.`);
  if (table.problems.length > 0) {
    for (const { line, message } of table.problems.slice(0, toldProblems))
      tell(io, `${plainText(written)}:${line}  ${plainText(message)}`);
    return wrong(place, `${counted(table.problems.length, 'row')} cannot be read.`);
  }
  const journal = table.kind === 'practice' ? place.journal : runsJournal(target, state, place);
  if ('message' in journal) return wrong(place, journal.message);
  try {
    const { fresh, refused } = sift(table.rows, journal, target.dayStarts);
    const dry = request.switches.has('dry-run');
    const file = nameFrom(io.cwd)(uriOf(journal.path));
    if (!dry && fresh.length > 0) {
      const pending = journal.pending();
      const after = isFailure(pending) ? '' : (pending.state.lastOf()?.id ?? '');
      const batch = `i-${journal.newId()}`;
      const failure = journal.append(
        ...fresh.map(({ id, local, entry }) => entryLine(journal, id, local, entry, after, batch)),
      );
      if (failure)
        return wrong(place, `The journal in ${journal.folder} cannot be written: ${failure.reason}.`);
      journal.sync();
    }
    for (const { line, message } of refused.slice(0, toldProblems))
      tell(io, `${plainText(written)}:${line}  ${message}`);
    if (refused.length > toldProblems)
      tell(io, `and ${counted(refused.length - toldProblems, 'more row')} of the kind.`);
    if (table.ignored.length > 0) tell(io, `Nothing is read from: ${plainText(listed(table.ignored))}.`);
    if (json) {
      const added = fresh.map(({ line, id, local, entry }) => ({ line, id, start: local, ...entry }));
      printJson(io, { file, dryRun: dry, added, refused });
    } else {
      const rows = dry
        ? fresh.map(({ line, local, entry }) => `  line ${line}: ${local}, ${described({ entry })}`)
        : [];
      const verb = dry ? 'would be added to' : 'added to';
      const sum = `${counted(fresh.length, 'row')} ${verb} ${file}, ${counted(refused.length, 'row')} refused.`;
      io.stdout.write(`${[...rows, sum].join('\n')}\n`);
    }
    if (!dry && fresh.length > 0)
      for (const sentence of await folded(io, journal, target.dayStarts))
        if (json) tell(io, sentence);
        else io.stdout.write(`${sentence}\n`);
    return fresh.length > 0 ? exit.fine : exit.findings;
  } finally {
    if (journal !== place.journal) journal.close();
  }
}

function wrong({ io }: LogPlace, sentence: string): number {
  tell(io, `${sentence} Nothing was added.`);
  return exit.wrong;
}

function readText(path: string) {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path));
  } catch (error) {
    return failureOf(error);
  }
}

/** Rows that are new, and those that stand in the log, in its journal or in the table already. */
function sift(
  rows: readonly Row[],
  journal: Journal,
  dayStarts: number,
): { readonly fresh: readonly Row[]; readonly refused: readonly RowProblem[] } {
  const text = readText(journal.path);
  const reading = read(
    journal.path.includes('.runs.') ? 'runs' : 'practice',
    typeof text === 'string' ? text : '',
  );
  const pending = journal.pending();
  const state = isFailure(pending) ? undefined : pending.state;
  const ids = new Set([
    ...idsOf(reading),
    ...(state?.open.flatMap(({ id, gone }) => (gone ? [] : [id])) ?? []),
    ...[...(state?.sealed ?? [])].flatMap(([id, { seal, state: at }]) =>
      at === 'sealed' && !seal.gone && !state?.late.has(id) ? [id] : [],
    ),
  ]);
  // Ids of what was taken back or taken out: what they named stays out, so the same row needs another one.
  const spent = new Set([...(state?.open.map(({ id }) => id) ?? []), ...(state?.sealed.keys() ?? [])]);
  const contents = new Set(contentsOf(reading.value, dayStarts));
  const seen = new Map<string, number>();
  const fresh: Row[] = [];
  const refused: RowProblem[] = [];
  for (const row of rows) {
    const earlier = seen.get(row.id);
    if (earlier !== undefined) refused.push({ line: row.line, message: `the same as line ${earlier}` });
    else if (ids.has(row.id) || contents.has(contentOf(row.local, row.entry, dayStarts)))
      refused.push({ line: row.line, message: 'stands in the log already' });
    else
      fresh.push(
        spent.has(row.id) ? { ...row, id: `${row.id.slice(0, 2)}${journal.newId().slice(0, 12)}` } : row,
      );
    if (earlier === undefined) seen.set(row.id, row.line);
  }
  return { fresh, refused };
}

/** What the entries of a log say, each with its day. */
function contentsOf(value: Readonly<Record<string, unknown>>, dayStarts: number): string[] {
  const list = (entries: unknown) => (Array.isArray(entries) ? (entries as Record<string, unknown>[]) : []);
  const blocks = list(value.sessions).flatMap((session) =>
    list(session.blocks).map((block) => contentOf(String(session.start), block, dayStarts)),
  );
  return [...blocks, ...list(value.runs).map((run) => contentOf(String(run.start), run, dayStarts))];
}

/** Equal for entries of one day that say the same. A run is told from others by its start, which is part of it. */
function contentOf(start: string, entry: Readonly<Record<string, unknown>>, dayStarts: number): string {
  const moment = parseMoment(start);
  const day = moment && dayOf(moment, dayStarts);
  const keys = Object.keys(entry).filter((key) => key !== 'id' && key !== 'notes' && !key.startsWith('x-'));
  return JSON.stringify([day, ...keys.sort().map((key) => [key, entry[key]])]);
}
