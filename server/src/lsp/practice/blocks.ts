import { isFailure, type Failure } from '../../journal/failure.ts';
import type { AttemptLine, JournalLine } from '../../journal/journalLines.ts';
import { newEntryId } from '../../journal/newEntry.ts';
import type {
  BlockParams,
  CountedAttempts,
  CountedAttemptsResult,
  PracticeAttemptParams,
  PracticeEndParams,
  PracticeEndResult,
  PracticeStartParams,
  PracticeStartResult,
} from '../../protocol/messages/practiceBlock.ts';
import type { Refusal } from '../../protocol/refusal.ts';
import type { OpenLog, PracticeLogs } from './practiceLogs.ts';
import { fileName } from '../documents/uris.ts';

/** Begins a block of a technique. */
export async function startBlock(
  logs: PracticeLogs,
  { uri, technique }: PracticeStartParams,
): Promise<PracticeStartResult> {
  const log = await logs.log(uri);
  if (isFailure(log)) return refused(uri, log);
  const { journal } = log;
  const began = journal.clock.now();
  const block = newEntryId('block', () => journal.newId());
  const local = journal.clock.local(began);
  const failure = await append(log, {
    kind: 'start',
    id: journal.newId(),
    at: began,
    local,
    technique,
    block,
  });
  if (failure) return refused(uri, failure);
  log.blockRunning = true;
  log.ownEntryIds.add(block);
  return { block, began };
}

/** Logs one attempt; the answer is sent once the attempt is written. */
export async function logAttempt(
  logs: PracticeLogs,
  { landed, ...params }: PracticeAttemptParams,
): Promise<CountedAttemptsResult> {
  return writeToBlock(logs, params, async (log) => {
    const { journal } = log;
    const at = journal.clock.now();
    const { block, technique } = params;
    const local = journal.clock.local(at);
    return append(log, { kind: 'attempt', id: journal.newId(), at, local, technique, block, landed });
  });
}

/** Takes back the last attempt of a block, also one that another program logged. Does nothing where there is none. */
export async function undoAttempt(logs: PracticeLogs, params: BlockParams): Promise<CountedAttemptsResult> {
  return writeToBlock(logs, params, async (log) => {
    const lines = log.journal.lines();
    if (isFailure(lines)) return lines;
    const last = attemptsOf(lines, params.block).at(-1);
    if (!last) return undefined;
    const { journal } = log;
    return append(log, { kind: 'undo', id: journal.newId(), at: journal.clock.now(), of: last.id });
  });
}

/** The attempts of a block that count so far. */
export async function countedAttempts(
  logs: PracticeLogs,
  params: BlockParams,
): Promise<CountedAttemptsResult> {
  return writeToBlock(logs, params, () => Promise.resolve(undefined));
}

/** Ends a block and puts it into its file by an edit, or discards it. */
export async function endBlock(
  logs: PracticeLogs,
  { uri, block, counts, leaveOut, until, paused = 0 }: PracticeEndParams,
): Promise<PracticeEndResult> {
  const log = await logs.log(uri);
  if (isFailure(log)) return refused(uri, log);
  const { journal } = log;
  const [lines, state] = [journal.lines(), journal.state()];
  if (isFailure(lines)) return refused(uri, lines);
  if (isFailure(state)) return refused(uri, state);
  const now = journal.clock.now();
  if (leaveOut) {
    const failure = await append(
      log,
      { kind: 'undo', id: journal.newId(), at: now, of: block },
      { kind: 'end', id: journal.newId(), at: now, block },
    );
    log.blockRunning = false;
    return failure ? refused(uri, failure) : { said: 'The block is left out of the log.', minutes: 0 };
  }
  const attempts = attemptsOf(lines, block);
  // Time after the end of the block, such as time away from the screen, does not count as practice.
  const at = Math.min(now, Math.max(until, attempts.at(-1)?.at ?? 0));
  const counted = attempts.length === 0 && counts !== null;
  const after = state.lastLogged()?.id ?? '';
  const failure = await append(log, {
    kind: 'end',
    id: journal.newId(),
    at,
    block,
    ...(counted && { counts, after }),
    ...(paused > 0 && { paused }),
  });
  if (failure) return refused(uri, failure);
  const written = journal.state();
  const logged = isFailure(written) ? undefined : written.open.find(({ id }) => id === block);
  const minutes = typeof logged?.entry.minutes === 'number' ? logged.entry.minutes : 0;
  const result = await logs.flush(log);
  log.blockRunning = false;
  return { said: describeOutcome(uri, result), minutes };
}

/** A sentence that says where an entry was written. */
function describeOutcome(
  uri: string,
  result: { readonly added: readonly string[] } | { readonly reason: string },
): string {
  return 'added' in result
    ? `Added to ${fileName(uri)}, not saved yet; undo removes it.`
    : `Safe in the journal, not in ${fileName(uri)} yet: ${result.reason}.`;
}

/** The answer for what was logged: what it is, and where it was written. */
export function loggedAnswer(
  id: string,
  what: string,
  uri: string,
  result: Parameters<typeof describeOutcome>[1],
): { readonly id: string; readonly said: string; readonly outcome: string } {
  const outcome = describeOutcome(uri, result);
  return { id, said: `Logged: ${what}. ${outcome}`, outcome };
}

async function writeToBlock(
  logs: PracticeLogs,
  { uri, block }: BlockParams,
  write: (log: OpenLog) => Promise<Failure | undefined>,
): Promise<CountedAttempts | Refusal> {
  const log = await logs.log(uri);
  if (isFailure(log)) return refused(uri, log);
  log.blockRunning = true;
  log.ownEntryIds.add(block);
  const failure = await write(log);
  if (failure) return refused(uri, failure);
  const lines = log.journal.lines();
  if (isFailure(lines)) return refused(uri, lines);
  return { attempts: attemptsOf(lines, block).map(({ at, landed }) => ({ at, landed })) };
}

/** Appends lines without reporting them as a change: this editor wrote them itself. */
async function append(log: OpenLog, ...lines: JournalLine[]): Promise<Failure | undefined> {
  const upToDate = log.seenRevision === log.journal.revision();
  const failure = await log.journal.append(...lines);
  if (upToDate) log.seenRevision = log.journal.revision();
  return failure;
}

/** The attempts of a block that count, in order of time. */
function attemptsOf(lines: readonly JournalLine[], block: string): AttemptLine[] {
  const undone = new Set(lines.flatMap((line) => (line.kind === 'undo' ? [line.of] : [])));
  const seen = new Set<string>();
  const attempts = lines.filter((line): line is AttemptLine => {
    if (line.kind !== 'attempt' || line.block !== block || undone.has(line.id) || seen.has(line.id))
      return false;
    seen.add(line.id);
    return true;
  });
  return attempts.sort((a, b) => a.at - b.at);
}

function refused(uri: string, { reason }: Failure): Refusal {
  return { message: `Nothing was logged. The journal of ${fileName(uri)} cannot be written: ${reason}.` };
}
