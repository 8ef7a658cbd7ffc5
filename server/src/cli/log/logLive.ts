import { isFailure } from '../../journal/failure.ts';
import type { JournalLine } from '../../journal/journalLines.ts';
import type { Journal, JournalSnapshot } from '../../journal/journal.ts';
import type { JournalState } from '../../journal/journalState.ts';
import type { UnsealedEntry } from '../../journal/loggedEntry.ts';
import { newEntryId } from '../../journal/newEntry.ts';
import { techniqueName } from '../../logging/logVocabulary.ts';
import { exitCodes, printJson, printLines, printNotice } from '../terminal/io.ts';
import type { LogContext } from './logContext.ts';
import type { LogAction } from './logRequest.ts';
import { relativeNames, uriOf } from '../terminal/paths.ts';

type LiveAction = Extract<LogAction, { readonly kind: 'attempt' | 'start' | 'end' }>;

/**
 * Logs what happens now: an attempt, a block's start or end. The answer is printed as soon as the line is written; only
 * then is it synchronised to the disk, and are finished entries put into the file.
 */
export async function logLive(
  context: LogContext,
  action: LiveAction,
  technique: string | undefined,
): Promise<number> {
  const { io, journal } = context;
  const before = journal.pending();
  if (isFailure(before)) return notLogged(context, before.reason);
  const { state } = before;
  const current = state.open.findLast(
    (block) => !block.done && (technique ?? block.technique) === block.technique,
  );
  const lines = journalLines(context, action, technique, state, current);
  if (typeof lines === 'string') {
    printNotice(io, lines);
    return exitCodes.wrong;
  }
  return writeAndAnswer(context, lines, (after) => printLiveAnswer(context, action, lines, after));
}

/**
 * Writes lines, answers as soon as they are in the journal, and puts finished entries into the file. Returns the exit
 * code.
 */
export async function writeAndAnswer(
  context: LogContext,
  lines: readonly JournalLine[],
  answered: (after: JournalSnapshot) => void,
): Promise<number> {
  const { journal } = context;
  const failure = journal.append(...lines);
  if (failure) return notLogged(context, failure.reason);
  const after = journal.pending();
  if (!isFailure(after)) answered(after);
  syncOrWarn(context);
  return !isFailure(after) && needsFlush(after.state)
    ? (await import('./flush.ts')).flushAfterLogging(context)
    : exitCodes.fine;
}

/** Synchronises the journal to the disk, or warns that this failed. */
export function syncOrWarn({ io, journal }: Pick<LogContext, 'io' | 'journal'>): void {
  const unsure = journal.sync();
  if (unsure) printNotice(io, `It is written, but may not outlast a power cut: ${unsure.reason}.`);
}

/** Prints why nothing was written. Returns the exit code. */
export function notLogged({ io, journal }: Pick<LogContext, 'io' | 'journal'>, reason: string): number {
  printNotice(io, `Nothing was logged. The journal in ${journal.folder} cannot be written: ${reason}.`);
  return exitCodes.wrong;
}

/** The lines to write, or a sentence that says why there is nothing to write. */
function journalLines(
  context: LogContext,
  action: LiveAction,
  technique: string | undefined,
  state: JournalState,
  current: UnsealedEntry | undefined,
): JournalLine[] | string {
  const { journal } = context;
  const at = journal.clock.now();
  const local = journal.clock.local(at);
  const id = journal.newId();
  const name = technique ?? current?.technique;
  switch (action.kind) {
    case 'start':
      return [
        { kind: 'start', id, at, local, technique: technique!, block: newEntryId('block', journal.newId) },
      ];
    case 'attempt': {
      if (name === undefined)
        return 'No block is open, so say which technique: routewright log TECHNIQUE --landed. Nothing was logged.';
      const block = current?.id ?? newEntryId('block', journal.newId);
      return [{ kind: 'attempt', id, at, local, technique: name, block, landed: action.landed }];
    }
    case 'end':
      if (!current) {
        const name = techniqueName(context.target, technique);
        return `No block${name === undefined ? '' : ` of ${name}`} is open.`;
      }
      return endLines(journal, action.counts, current, state.lastLogged()?.id ?? '');
  }
}

function endLines(
  { clock, newId }: Journal,
  counts: readonly [number, number] | undefined,
  current: UnsealedEntry,
  after: string,
): JournalLine[] | string {
  const count = current.attempts.length;
  if (counts && count > 0)
    return `${count} attempts of this block were logged one by one. End it without numbers: routewright log --end`;
  return [
    {
      kind: 'end',
      id: newId(),
      at: clock.now(),
      block: current.id,
      ...(counts && { counts, after }),
    },
  ];
}

function printLiveAnswer(
  { io, target, json }: LogContext,
  action: LiveAction,
  lines: readonly JournalLine[],
  { state, torn }: JournalSnapshot,
): void {
  const [line] = lines;
  if (!line) return;
  const file = relativeNames(io.cwd)(uriOf(target.practice));
  const block = state.open.find(({ id, attempts }) => {
    if (line.kind === 'attempt') return attempts.includes(line.id);
    return line.kind === 'start' || line.kind === 'end' ? id === line.block : false;
  });
  const technique = block?.technique;
  const tally = block && { landed: block.landed, tries: block.attempts.length };
  if (json) {
    printJson(io, { entry: { ...line, technique }, file, block: tally ?? null });
    return;
  }
  const sum = tally && tally.tries > 0 ? ` This block: ${tally.landed} of ${tally.tries}.` : '';
  const tornNote = torn > 0 ? ` (Passed over in the journal: ${torn} torn, never acknowledged.)` : '';
  printLines(io, [`${techniqueName(target, technique) ?? 'Block'}: ${liveMessage(action)}${sum}${tornNote}`]);
}

function liveMessage(action: LiveAction): string {
  switch (action.kind) {
    case 'attempt':
      return action.landed ? 'landed.' : 'missed.';
    case 'start':
      return 'block begun.';
    case 'end':
      return 'block ended.';
  }
}

/** Whether the log file must be changed. */
export function needsFlush({ open, sealed, undoneAfterSeal }: JournalState): boolean {
  return (
    undoneAfterSeal.size > 0 ||
    open.some(({ done }) => done) ||
    [...sealed.values()].some(({ state }) => state === 'sealed')
  );
}
