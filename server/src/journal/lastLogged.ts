import type { LogEntry, JournalLine } from './journalLines.ts';
import type { UnsealedEntry, SealedEntry } from './loggedEntry.ts';

/** What was logged last and still counts. */
export interface LastLogged {
  /** Id of the attempt, the entry or the import; lines of what is logged after it refer to it by this id. */
  readonly id: string;
  /** Ids of the attempt or the entries that are taken back with it. */
  readonly ids: readonly string[];
  readonly technique: string | undefined;
  /** Whether the attempt landed; undefined for entries logged whole. */
  readonly landed: boolean | undefined;
  /** The entries logged whole; empty for an attempt. */
  readonly entries: readonly WholeEntry[];
  /** Whether the entries came from a table. */
  readonly imported: boolean;
  /** When it was logged, ms since 1970. */
  readonly at: number;
}

/** An entry logged whole. */
export interface WholeEntry {
  readonly id: string;
  /** When it began, by the runner's own clock. */
  readonly local: string;
  readonly entry: LogEntry;
  readonly technique: string | undefined;
  readonly after: string;
  readonly batch: string | undefined;
  readonly at: number;
  readonly live: boolean;
}

/**
 * What `undo` takes back: the latest attempt, the latest entry logged whole or the latest import, flushed or not. An
 * entry logged whole names what was logged before it, so that their order does not depend on the clock, which may have
 * been set back.
 *
 * @param technique only what was logged for this technique
 */
export function findLastLogged(
  lines: readonly JournalLine[],
  open: readonly UnsealedEntry[],
  sealed: ReadonlyMap<string, SealedEntry>,
  undone: ReadonlySet<string>,
  technique?: string,
): LastLogged | undefined {
  const wholes = wholeEntriesOf(open, sealed, undone);
  const groups = new Map<string, WholeEntry[]>();
  for (const whole of wholes) {
    const name = whole.batch ?? whole.id;
    groups.set(name, [...(groups.get(name) ?? []), whole]);
  }
  const following = new Map<string, string[]>();
  for (const [name, [first]] of groups)
    if (first) following.set(first.after, [...(following.get(first.after) ?? []), name]);

  let last: LastLogged | undefined;
  const reached = new Set<string>();
  const take = (one: LastLogged | undefined): void => {
    if (one && (technique === undefined || one.technique === technique)) last = one;
  };
  const follow = (from: string): void => {
    for (const left = [...(following.get(from) ?? [])]; left.length > 0;) {
      const name = left.shift()!;
      if (reached.has(name)) continue;
      reached.add(name);
      take(toLastLogged(name, groups.get(name) ?? [], technique));
      // What was logged after it comes before the others that follow `from`.
      left.unshift(...(following.get(name) ?? []));
    }
  };
  const attempts = attemptsOf(lines, open, sealed, undone);
  const known = new Set([...attempts.map(({ id }) => id), ...groups.keys()]);
  follow('');
  // What was logged before them is forgotten, so they are old.
  for (const after of [...following.keys()]) if (!known.has(after)) follow(after);
  for (const attempt of attempts) {
    take(attempt.live ? attempt : undefined);
    follow(attempt.id);
  }
  // Entries that name each other in a circle count, too; no writer leaves such lines.
  for (const name of groups.keys())
    if (!reached.has(name)) take(toLastLogged(name, groups.get(name)!, technique));
  return last;
}

function toLastLogged(
  id: string,
  all: readonly WholeEntry[],
  technique: string | undefined,
): LastLogged | undefined {
  const entries = all.filter((one) => one.live && (technique === undefined || one.technique === technique));
  const [first] = entries;
  return (
    first && {
      id,
      ids: entries.map((one) => one.id),
      technique: first.technique,
      landed: undefined,
      entries,
      imported: first.batch !== undefined,
      at: Math.max(...entries.map(({ at }) => at)),
    }
  );
}

function wholeEntriesOf(
  open: readonly UnsealedEntry[],
  sealed: ReadonlyMap<string, SealedEntry>,
  undone: ReadonlySet<string>,
): WholeEntry[] {
  const flushed = [...sealed.values()].flatMap(({ seal, state }): WholeEntry[] => {
    const { block: id, local, entry, after, batch, at, last = at } = seal;
    if (after === undefined) return [];
    const live = state !== 'dropped' && !seal.gone && !undone.has(id);
    return [{ id, local, entry, technique: nameOf(entry.technique), after, batch, at: last, live }];
  });
  const waiting = open.flatMap(
    ({ id, local, entry, technique, after, batch, gone, last: at }): WholeEntry[] =>
      after === undefined ? [] : [{ id, local, entry, technique, after, batch, at, live: !gone }],
  );
  return [...flushed, ...waiting];
}

interface LoggedAttempt extends LastLogged {
  readonly live: boolean;
}

/**
 * Attempts in their order: the flushed ones, then the others. Those taken back are among them, since later lines may
 * name them.
 */
function attemptsOf(
  lines: readonly JournalLine[],
  open: readonly UnsealedEntry[],
  sealed: ReadonlyMap<string, SealedEntry>,
  undone: ReadonlySet<string>,
): LoggedAttempt[] {
  const one = (
    id: string,
    technique: string | undefined,
    landed: boolean,
    at: number,
    live: boolean,
  ): LoggedAttempt => ({
    ...{ id, ids: [id], technique, landed, entries: [], imported: false, at, live },
  });
  const flushed = [...sealed.values()].flatMap(({ seal, state }) => {
    const { attempts, entry, at, last = at } = seal;
    const live = state !== 'dropped' && !seal.gone && !undone.has(seal.block);
    return attempts.map((id, index) =>
      one(id, nameOf(entry.technique), String(entry.tape)[index] === 'l', last, live && !undone.has(id)),
    );
  });
  const known = new Set(flushed.map(({ id }) => id));
  const counting = new Set(open.flatMap(({ gone, attempts }) => (gone ? [] : attempts)));
  const waiting = lines.flatMap((line) =>
    line.kind === 'attempt' && !known.has(line.id)
      ? [one(line.id, line.technique, line.landed, line.at, counting.has(line.id))]
      : [],
  );
  return [...flushed, ...waiting];
}

function nameOf(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}
