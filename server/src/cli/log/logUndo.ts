import { existsSync } from 'node:fs';
import { isFailure } from '../../journal/failure.ts';
import { openJournal, type Journal, type JournalSnapshot } from '../../journal/journal.ts';
import type { LastLogged } from '../../journal/lastLogged.ts';
import type { UndoLine } from '../../journal/journalLines.ts';
import { describeEntry } from '../../logging/describeEntry.ts';
import { nameAmong, techniqueName } from '../../logging/logVocabulary.ts';
import { formatCount } from '../../text/format.ts';
import { exitCodes, printJson, printLines, printNotice } from '../terminal/io.ts';
import type { LogContext } from './logContext.ts';
import { notLogged, writeAndAnswer } from './logLive.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';

/** Entries of an import that are listed one by one. */
const maxEntriesShown = 20;

/**
 * Takes back what was logged last: an attempt, a whole block or run, or an import. Within one log the order of logging
 * decides, and not the clock; the clock decides which of the two logs was written to last. What is taken back is
 * printed in full, so that it can be logged again. Returns the exit code.
 *
 * @param technique takes back only what was logged of this technique
 */
export async function logUndo(context: LogContext, technique: string | undefined): Promise<number> {
  const { io, journal, target, state, clock } = context;
  // A run does not belong to one technique.
  const runs =
    technique === undefined && existsSync(target.runs)
      ? openJournal(target.runs, { state, clock })
      : undefined;
  const both = [journal, ...(runs && !isFailure(runs) ? [runs] : [])];
  try {
    let found: { readonly at: Journal; readonly last: LastLogged } | undefined;
    for (const at of both) {
      const pending = at.pending('all');
      if (isFailure(pending)) return notLogged({ io, journal: at }, pending.reason);
      const last = pending.state.lastLogged(technique);
      if (last && (!found || last.at > found.last.at)) found = { at, last };
    }
    if (!found) {
      printNotice(io, 'There is nothing to take back.');
      return exitCodes.wrong;
    }
    return await takeBack({ ...context, journal: found.at }, found.last);
  } finally {
    if (runs && !isFailure(runs)) runs.close();
  }
}

function takeBack(context: LogContext, last: LastLogged): Promise<number> {
  const { journal } = context;
  const at = journal.clock.now();
  const lines = last.ids.map((of): UndoLine => ({ kind: 'undo', id: journal.newId(), at, of }));
  return writeAndAnswer(context, lines, (after) => printUndoAnswer(context, last, lines, after));
}

function printUndoAnswer(
  { io, journal, target, json }: LogContext,
  last: LastLogged,
  [line]: readonly UndoLine[],
  { state, torn }: JournalSnapshot,
): void {
  const file = relativeNames(io.cwd)(uriOf(journal.path));
  const block = state.open.find(({ undone }) => undone.includes(last.id));
  const tally = block && { landed: block.landed, tries: block.attempts.length };
  const taken = last.entries.map(({ id, local, entry }) => ({ id, start: local, ...entry }));
  if (json) {
    printJson(io, { entry: { ...line, technique: last.technique }, file, block: tally ?? null, taken });
    return;
  }
  const sum = tally && tally.tries > 0 ? ` This block: ${tally.landed} of ${tally.tries}.` : '';
  const tornNote = torn > 0 ? ` (Passed over in the journal: ${torn} torn, never acknowledged.)` : '';
  const lines = undoMessage(last, target);
  printLines(io, [...lines.slice(0, -1), `${lines.at(-1)!}${sum}${tornNote}`]);
}

/** What was taken back, one line at least. */
function undoMessage(
  { technique, landed, entries, imported }: LastLogged,
  words: LogContext['target'],
): string[] {
  const [first] = entries;
  const name = techniqueName(words, technique);
  if (!first)
    return [`${name ?? 'Block'}: the last attempt (${landed ? 'landed' : 'missed'}) is taken back.`];
  const told = entries.map(({ local, entry }) => `${local}, ${describeEntry(entry, nameAmong(words))}`);
  if (!imported)
    return [
      name === undefined
        ? `The last run is taken back: ${told[0]}.`
        : `${name}: the last block is taken back: ${told[0]}.`,
    ];
  const shown = told.slice(0, maxEntriesShown).map((one) => `  ${one}`);
  const rest = told.length - shown.length;
  return [
    `The last import is taken back, ${formatCount(told.length, 'row')}:`,
    ...shown,
    ...(rest > 0 ? [`  and ${formatCount(rest, 'more row')}, as in the table.`] : []),
  ];
}
