import type { UnsealedEntry } from './loggedEntry.ts';
import type { SealedEntry } from './loggedEntry.ts';
import { findLastLogged, type LastLogged } from './lastLogged.ts';
import type { AttemptLine, EndLine, JournalLine, StartLine } from './journalLines.ts';

/**
 * How much of a journal is read. `needed`: what tells the state of every entry that is not settled, and of those that
 * were logged last. `all`: every entry that is remembered, as taking back and importing need it.
 */
export type JournalExtent = 'needed' | 'all';

/** The lines of one writer, in the order they were written. */
export type WriterLines = readonly JournalLine[];

export interface JournalState {
  /** Entries that no flush has sealed yet, in the order in which they were begun. */
  readonly open: readonly UnsealedEntry[];
  /** Sealed entries by their ids, the latest last. */
  readonly sealed: ReadonlyMap<string, SealedEntry>;
  /** Ids of attempts and entries taken back after they were sealed. */
  readonly undoneAfterSeal: ReadonlySet<string>;
  /** Whether what a line logs is in the saved file, or must not be put there: the line can be cleared. */
  isSettled(line: JournalLine): boolean;
  /** What `undo` takes back: the latest attempt, entry logged whole or import; undefined where there is none. */
  lastLogged(technique?: string): LastLogged | undefined;
}

/** A block is finished when nothing was logged for longer than this: a rest is shorter. Milliseconds. */
export const maxBlockPause = 30 * 60_000;

/**
 * The state that the lines of a journal describe.
 *
 * @param writers the lines of each writer
 * @param now ms since 1970
 */
export function buildJournalState(writers: readonly WriterLines[], now: number): JournalState {
  const lines = mergeWriters(writers);
  const sealed = sealedEntries(lines);
  const owner = new Map<string, string>();
  for (const { seal } of sealed.values())
    for (const id of [...seal.attempts, ...seal.undone]) owner.set(id, seal.block);
  const undone = new Set(lines.flatMap((line) => (line.kind === 'undo' ? [line.of] : [])));

  const groups = new Map<string, LineGroup>();
  // Id of a sealed block → id of the entry for attempts that were logged for it afterwards.
  const overflow = new Map<string, string>();
  const join = (id: string, line: JournalLine) => {
    const group = groups.get(id) ?? { id, lines: [] };
    groups.set(id, group);
    group.lines.push(line);
  };
  for (const line of lines) {
    if (line.kind === 'entry' && !sealed.has(line.id)) join(line.id, line);
    if ((line.kind === 'start' || line.kind === 'end') && !sealed.has(line.block)) join(line.block, line);
    if (line.kind !== 'attempt' || owner.has(line.id)) continue;
    if (sealed.has(line.block) && !overflow.has(line.block)) overflow.set(line.block, `b-${line.id}`);
    join(overflow.get(line.block) ?? line.block, line);
  }
  const latest = latestBlock(lines);
  const open = [...groups.values()].flatMap((group) => toUnsealedEntry(group, undone, now, latest) ?? []);
  const late = new Set(
    [...undone].filter((id) => {
      const found = sealed.get(owner.get(id) ?? id);
      return found && found.state !== 'dropped' && !found.seal.gone && !found.seal.undone.includes(id);
    }),
  );
  const closed = (block: string) => {
    const found = sealed.get(block);
    return found !== undefined && found.state !== 'sealed';
  };
  return {
    open,
    sealed,
    undoneAfterSeal: late,
    isSettled(line) {
      switch (line.kind) {
        case 'attempt':
          return owner.has(line.id) && closed(owner.get(line.id)!);
        case 'entry':
          return closed(line.id);
        case 'start':
        case 'end':
          return closed(line.block);
        case 'undo':
          return !late.has(line.of) && !open.some((block) => mentions(block, line.of));
        case 'seal':
        case 'saved':
        case 'dropped':
          return closed(line.block);
      }
    },
    lastLogged: (technique) => findLastLogged(lines, open, sealed, undone, technique),
  };
}

interface LineGroup {
  readonly id: string;
  readonly lines: JournalLine[];
}

function mentions(block: UnsealedEntry, id: string): boolean {
  return block.id === id || block.attempts.includes(id) || block.undone.includes(id);
}

/**
 * One order for the lines of all writers: by the clock, but a writer's own lines stay in the order it wrote them, also
 * where the clock was set back. A line found twice counts once.
 */
function mergeWriters(writers: readonly WriterLines[]): JournalLine[] {
  const seen = new Set<string>();
  const heads = writers.map((lines) => ({ lines, next: 0 }));
  const result: JournalLine[] = [];
  for (;;) {
    let first: (typeof heads)[number] | undefined;
    for (const head of heads) {
      const line = head.lines[head.next];
      if (line && (!first || line.at < first.lines[first.next]!.at)) first = head;
    }
    if (!first) return result;
    const line = first.lines[first.next++]!;
    if (seen.has(line.id)) continue;
    seen.add(line.id);
    result.push(line);
  }
}

/**
 * A process that was stopped until another took its lock over may write a line that is out of date by then. So the first
 * seal of an entry holds, only one for what was taken back follows it, and a mark settles the seal that it names.
 */
function sealedEntries(lines: readonly JournalLine[]): Map<string, SealedEntry> {
  const sealed = new Map<string, SealedEntry>();
  for (const line of lines) {
    if (line.kind === 'seal') {
      if (sealed.has(line.block) && line.from === undefined) continue;
      sealed.delete(line.block);
      sealed.set(line.block, { seal: line, state: 'sealed' });
    } else if (line.kind === 'saved' || line.kind === 'dropped') {
      const known = sealed.get(line.block);
      if (known && (line.seal ?? known.seal.id) === known.seal.id)
        sealed.set(line.block, { seal: known.seal, state: line.kind });
    }
  }
  return sealed;
}

/** The block that is practised now, according to the lines. */
function latestBlock(lines: readonly JournalLine[]): string | undefined {
  return lines.findLast((line) => line.kind === 'start' || line.kind === 'attempt')?.block;
}

function toUnsealedEntry(
  { id, lines }: LineGroup,
  undone: ReadonlySet<string>,
  now: number,
  latest: string | undefined,
): UnsealedEntry | undefined {
  const [first] = lines;
  if (first?.kind === 'entry') {
    const { technique } = first.entry;
    return {
      id,
      local: first.local,
      technique: typeof technique === 'string' ? technique : undefined,
      attempts: [],
      undone: [],
      gone: undone.has(id),
      landed: 0,
      done: true,
      last: first.at,
      entry: first.entry,
      ...(first.after !== undefined && { after: first.after }),
      ...(first.batch !== undefined && { batch: first.batch }),
    };
  }
  const begun = lines.find((line): line is StartLine | AttemptLine => 'technique' in line);
  // An end without a beginning is ignored.
  if (!begun) return undefined;
  const attempts = lines.filter((line) => line.kind === 'attempt');
  const counting = attempts.filter((line) => !undone.has(line.id));
  const end = lines.findLast((line): line is EndLine => line.kind === 'end');
  const last = lines.at(-1)!.at;
  const counts = attempts.length === 0 ? end?.counts : undefined;
  const tape = counting.map(({ landed }) => (landed ? 'l' : 'm')).join('');
  return {
    id,
    local: begun.local,
    technique: begun.technique,
    attempts: counting.map((line) => line.id),
    undone: attempts.filter((line) => undone.has(line.id)).map((line) => line.id),
    // A block that never had an attempt is logged only if it was ended: then its time was spent.
    gone: undone.has(id) || (counting.length === 0 && (attempts.length > 0 || end === undefined)),
    landed: counting.filter(({ landed }) => landed).length,
    done: end !== undefined || begun.block !== latest || now - last > maxBlockPause,
    last,
    ...(counts && end?.after !== undefined && { after: end.after }),
    entry: {
      technique: begun.technique,
      minutes: minutesOf(lines, end?.paused),
      ...(counts ? { landed: [...counts] } : attempts.length > 0 ? { tape } : {}),
    },
  };
}

/**
 * Minutes from the first line to the last, to a tenth, without the time of a pause. The clock may have been set back or forward meanwhile:
 * a step back counts nothing, and one so long that the block would have been over counts nothing either.
 */
function minutesOf(lines: readonly JournalLine[], paused = 0): number {
  let total = 0;
  for (const [index, { at, kind }] of lines.entries()) {
    const step = at - (lines[index - 1]?.at ?? at);
    // An end confirms that the time was spent on the block.
    if (step > 0 && (step <= maxBlockPause || kind === 'end')) total += Math.min(step, maxBlockLength);
  }
  return Math.max(0.1, Math.round((total - paused) / 6000) / 10);
}

/** The most that one step can count, even where the clock says more. Milliseconds. */
const maxBlockLength = 4 * 3_600_000;
