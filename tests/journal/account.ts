import { readFileSync } from 'node:fs';
import { readSource } from '../../server/src/files/reading/reading.ts';
import { isFailure } from '../../server/src/journal/failure.ts';
import type { Journal } from '../../server/src/journal/journal.ts';
import { readJournal } from '../../server/src/journal/journalStore.ts';
import { scalarTextAt } from '../../server/src/files/edit/valueAt.ts';
import { logEntryRefs } from '../../server/src/journal/logEntries.ts';
import { tapeOf } from '../../server/src/journal/seal.ts';

export interface Account {
  /** Attempts that were acknowledged. */
  readonly acknowledged: number;
  /** Of these, found in the file or the journal with the result they had. */
  readonly found: number;
  /** Found in more than one place, or in the file more often than they were made. */
  readonly doubled: number;
  /** Attempts in the file. */
  readonly inFile: number;
  /** Written but not acknowledged: their process was ended in between. */
  readonly unacknowledged: number;
}

/**
 * Where acknowledged attempts are now. The file alone does not name attempts, so the journal's memory of which entry
 * was made of which attempts is held against the tapes that stand in the file, letter by letter.
 *
 * @param acknowledged letter by id of the attempt
 */
export function accountOf(journal: Journal, acknowledged: ReadonlyMap<string, string>): Account {
  const pending = journal.pending('all');
  if (isFailure(pending)) throw new Error(pending.reason);
  const reading = readSource('practice', readFileSync(journal.path, 'utf8'));
  if (reading.problems.length > 0) throw new Error(reading.problems[0]!.message);
  const tapes = new Map<string, string[]>();
  let inFile = 0;
  for (const { id, path } of logEntryRefs(reading)) {
    const tape = scalarTextAt(reading, [...path, 'tape']) ?? '';
    inFile += tape.length;
    tapes.set(id ?? '', [...(tapes.get(id ?? '') ?? []), tape]);
  }
  const places = new Map<string, string[]>();
  const put = (ids: readonly string[], tape: string) => {
    for (const [at, id] of ids.entries()) places.set(id, [...(places.get(id) ?? []), tape[at] ?? '?']);
  };
  let inSeals = 0;
  for (const { seal, state } of pending.state.sealed.values()) {
    const standing = tapes.get(seal.block) ?? [];
    // Not in the file yet: a fold was ended before it wrote it, and the next one will.
    if (standing.length === 0 && state === 'sealed') put(seal.attempts, tapeOf(seal));
    for (const tape of standing) {
      put(seal.attempts, tape);
      inSeals += tape.length;
    }
  }
  // The lines themselves say what an attempt was, wherever the reduction put it.
  const letters = new Map(
    readJournal(journal.folder, 'all').writers.flatMap((lines) =>
      lines.flatMap((line) => (line.kind === 'attempt' ? [[line.id, line.landed ? 'l' : 'm'] as const] : [])),
    ),
  );
  for (const { attempts } of pending.state.open)
    put(attempts, attempts.map((id) => letters.get(id) ?? '?').join(''));
  const found = [...acknowledged].filter(([id, letter]) => places.get(id)?.includes(letter)).length;
  const doubled = [...places.values()].filter((all) => all.length > 1).length + Math.max(0, inFile - inSeals);
  return {
    acknowledged: acknowledged.size,
    found,
    doubled,
    inFile,
    unacknowledged: [...places.keys()].filter((id) => !acknowledged.has(id)).length,
  };
}
