import { readAfter } from '../files/edit/intendedEffect.ts';
import { isUntouched } from '../files/edit/isUntouched.ts';
import { replaceScalar } from '../files/edit/replaceScalar.ts';
import { singleEdit, type TextEdit } from '../files/edit/textEdit.ts';
import { scalarTextAt } from '../files/edit/valueAt.ts';
import { isFullyRead } from '../files/reading/fullyRead.ts';
import type { Reading } from '../files/reading/reading.ts';
import { locate, type Path } from '../files/yaml/tree.ts';
import { addRunEdits, addSessionEdits } from './addEdits.ts';
import type { SealLine } from './journalLines.ts';
import { removeEntryEdits } from './removeEdits.ts';
import { tapeOf } from './seal.ts';
import { logEntryRefs, logEntryIds } from './logEntries.ts';

/** What a flush does to a text. */
export interface FlushPlan {
  /** They do not overlap, and all of them are meant for the text as it is. */
  readonly edits: readonly TextEdit[];
  /** Ids of the entries that the edits add. */
  readonly added: readonly string[];
  /** Ids of the entries that the text had already. */
  readonly alreadyPresent: readonly string[];
  /** Ids of entries whose tape is shortened. */
  readonly shortened: readonly string[];
  /** Ids of entries that are taken out again. */
  readonly removed: readonly string[];
  /** Ids of entries from which something was to be taken back, but which were edited by hand meanwhile. */
  readonly handEdited: readonly string[];
  /** Ids of entries that a saved file has held and this text does not: the user took them out. */
  readonly dropped: readonly string[];
  /** Ids of entries that no edit is sure to fit, and which therefore wait. */
  readonly unfit: readonly string[];
  /** The text after the edits. */
  readonly text: string;
}

/** Why nothing can be put into a text, in a sentence without its subject. */
export interface FlushRefusal {
  readonly problem: string;
}

/**
 * The edits that make a log hold sealed entries, each once, with comments, order and quoting kept. Entries that the text
 * has already are passed over. One that cannot be written, as an ill-formed line of a journal may ask for, does not
 * keep the others out. Never throws.
 *
 * @param seals entries that are neither saved nor dropped yet
 * @param dayStarts minutes after midnight at which the runner's day begins
 */
export function planFlush(
  reading: Reading,
  seals: readonly SealLine[],
  dayStarts: number,
): FlushPlan | FlushRefusal {
  if (!isFullyRead(reading)) return { problem: 'it has an error in its YAML; mend that first' };
  const plan = planTogether(reading, seals, dayStarts);
  if (plan) return plan;
  const [fit, unfit] = [true, false].map((fits) =>
    seals.filter((seal) => (planTogether(reading, [seal], dayStarts) !== undefined) === fits),
  );
  const others = fit!.length > 0 && planTogether(reading, fit!, dayStarts);
  if (others) return { ...others, unfit: unfit!.map(({ block }) => block) };
  return { problem: 'it is written in a way that no edit is sure to fit' };
}

/** Undefined where no edits are sure to fit. */
function planTogether(
  reading: Reading,
  seals: readonly SealLine[],
  dayStarts: number,
): FlushPlan | undefined {
  const pathById = new Map(
    logEntryRefs(reading).flatMap(({ id, path }) => (id ? [[id, path] as const] : [])),
  );
  const add = seals.filter(({ block, gone, known }) => !pathById.has(block) && !gone && !known);
  const taken = editsForUndone(reading, seals, pathById);
  const shorter = readAfterEdits(reading, taken.edits, [], taken.removed, taken.shortened);
  if (!shorter) return undefined;
  // Worked out on the text after the removals: a place may lie in text that is taken out.
  const more = reading.kind === 'runs' ? addRunEdits(shorter, add) : addSessionEdits(shorter, add, dayStarts);
  const added = add.map(({ block }) => block);
  const whole = readAfterEdits(shorter, more, added, [], []);
  if (!whole) return undefined;
  const both = taken.edits.length > 0 && more.length > 0;
  const edits = both ? [singleEdit(reading.text, whole.text)] : [...taken.edits, ...more];
  return {
    edits: edits.filter((edit) => edit !== undefined),
    added,
    alreadyPresent: seals.flatMap(({ block }) => (pathById.has(block) ? [block] : [])),
    shortened: taken.shortened,
    removed: taken.removed,
    handEdited: taken.handEdited,
    dropped: seals.flatMap(({ block, gone, known }) =>
      !pathById.has(block) && !gone && known ? [block] : [],
    ),
    unfit: [],
    text: whole.text,
  };
}

/** The edits for what was taken back after a flush put it into the text. */
function editsForUndone(reading: Reading, seals: readonly SealLine[], pathById: ReadonlyMap<string, Path>) {
  const edits: (TextEdit | undefined)[] = [];
  const done = { shortened: [] as string[], removed: [] as string[], handEdited: [] as string[] };
  const gone = new Map<string, Path>();
  for (const seal of seals) {
    const path = pathById.get(seal.block);
    if (!path || seal.from === undefined) continue;
    const tape = scalarTextAt(reading, [...path, 'tape']) ?? '';
    if (tape === tapeOf(seal) && !seal.gone) continue;
    if (!seal.from.includes(tape) || (seal.gone && !isAsSealed(reading, path, seal, tape)))
      done.handEdited.push(seal.block);
    else if (seal.gone) gone.set(seal.block, path);
    else {
      edits.push(tapeEdit(reading, path, tapeOf(seal)));
      done.shortened.push(seal.block);
    }
  }
  const out = removeEntryEdits(reading, [...gone.values()]);
  for (const [id, path] of gone) (out.left.includes(path) ? done.handEdited : done.removed).push(id);
  return { edits: [...edits, ...out.edits], ...done };
}

/** The reading after edits; undefined where they do not have their intended effect. */
function readAfterEdits(
  reading: Reading,
  edits: readonly (TextEdit | undefined)[],
  added: readonly string[],
  removed: readonly string[],
  shortened: readonly string[],
): Reading | undefined {
  if (edits.length === 0) return reading;
  const sure = edits.filter((edit) => edit !== undefined);
  if (sure.length < edits.length) return undefined;
  const after = readAfter(reading, sure);
  const touched = new Set([...added, ...removed, ...shortened]);
  return after && holdsEntries(reading, after, added, removed, touched) ? after : undefined;
}

/** Whether an entry can be taken out without removing anything that the user wrote. */
function isAsSealed(reading: Reading, path: Path, { block, entry }: SealLine, tape: string): boolean {
  return isUntouched(reading, path, [{ id: block, ...entry, ...(tape !== '' && { tape }) }]);
}

function tapeEdit({ text, tree }: Reading, path: Path, tape: string): TextEdit | undefined {
  const place = locate(tree, [...path, 'tape']);
  return place.exact && place.tree?.type === 'scalar' ? replaceScalar(text, place, tape) : undefined;
}

/**
 * Whether the edits had their intended effect: the added entries are there, each once, the removed ones are gone, and
 * everything else is unchanged.
 */
function holdsEntries(
  reading: Reading,
  after: Reading,
  added: readonly string[],
  removed: readonly string[],
  touched: ReadonlySet<string>,
): boolean {
  const ids = logEntryIds(after);
  if (!added.every((id) => ids.has(id)) || removed.some((id) => ids.has(id))) return false;
  if (logEntryRefs(after).length !== logEntryRefs(reading).length + added.length - removed.length)
    return false;
  return contentWithout(after, touched) === contentWithout(reading, touched);
}

/** The content of a log without some entries, as a text to compare. */
function contentWithout({ value }: Reading, without: ReadonlySet<string>): string {
  const { runs, sessions, ...others } = value;
  const keep = (entry: unknown) =>
    typeof entry !== 'object' || entry === null || !('id' in entry) || !without.has(String(entry.id));
  const list = (entries: unknown): unknown[] => (Array.isArray(entries) ? entries.filter(keep) : []);
  // A session with nothing but such entries is left out, too.
  const sittings = list(sessions).flatMap((session) => {
    const blocks = typeof session === 'object' && session && 'blocks' in session ? list(session.blocks) : [];
    return blocks.length > 0 ? [{ ...(session as object), blocks }] : [];
  });
  return JSON.stringify([others, list(runs), sittings]);
}
