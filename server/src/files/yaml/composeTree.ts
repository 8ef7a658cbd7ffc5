import { duplicateKeyProblem } from './treeConverter.ts';
import { mergeMarker } from './mergeConflicts.ts';
import type { EntryCollection } from '../fileKind.ts';
import type { ChunkedText } from './chunk.ts';
import { shiftProblem, type Problem, type Span } from './problem.ts';
import { syntaxMessage } from './syntaxMessages.ts';
import { entryOf, KeyIndex, keyIndexFor, type Entry, type Item, type MapTree, type Tree } from './tree.ts';

/** A file's tree, and whether it is certain that no key of the file or of a section occurs twice. */
export interface ComposedTree {
  readonly tree: MapTree;
  readonly distinct: boolean;
}

/**
 * Puts pieces of a text that were read apart into the tree of their file, and their problems into `problems`. Undefined
 * where they do not fit together after all: the file is then to be read whole.
 *
 * @param before the result for the previous text, where that has the same keys in the same order
 */
export function composeTree(
  chunkedText: ChunkedText,
  before: ComposedTree | undefined,
  problems: Problem[],
): ComposedTree | undefined {
  const { text, chunks, starts } = chunkedText;
  const found: Problem[] = [];
  const entries: Entry[] = [];
  for (let at = 0, next = 0; at < chunks.length; at = next) {
    next = at + 1;
    while (next < chunks.length && chunks[next]!.section) next++;
    const chunk = chunks[at]!;
    const shift = starts[at]!;
    const children: SectionChunks = { inParts: chunkedText, from: at + 1, to: next };
    if (chunk.stray) {
      found.push(strayLineProblem(text, shift, chunk.section));
      continueSection(entries, children, found);
      continue;
    }
    for (const problem of chunk.parsed.problems) found.push(shiftProblem(problem, shift));
    const { tree } = chunk.parsed;
    if (tree?.type !== 'map' || tree.entries.length !== 1) {
      if (chunk.parsed.problems.length === 0) return undefined;
      continue;
    }
    const [entry] = tree.entries as [Entry];
    if (next === at + 1) entries.push({ ...entry, shift });
    else if (entry.value) return undefined;
    else entries.push({ key: entry.key, value: composeSection(children, shift, found, before), shift });
  }
  const duplicates = before?.distinct ? [] : duplicateKeyProblems(entries);
  problems.push(...found, ...duplicates);
  const span: Span = { start: starts[0]!, end: text.length };
  const tree: MapTree = { type: 'map', ...span, flow: false, entries, ...keyIndexFor(entries) };
  // A broken piece may hold a key twice as well.
  return { tree, distinct: duplicates.length === 0 && chunkedText.troubled === 0 };
}

/** Consecutive pieces that are all entries of one section. */
interface SectionChunks {
  readonly inParts: ChunkedText;
  readonly from: number;
  readonly to: number;
}

/** Entries after a stray line in the first column belong to the section before it. */
function continueSection(entries: Entry[], children: SectionChunks, found: Problem[]): void {
  const open = entries.at(-1);
  const { inParts: chunkedText, from, to } = children;
  if (!open || from === to || String(open.key.value) !== chunkedText.chunks[from]!.section?.key) return;
  const more = composeSection(children, open.shift, found, undefined);
  entries[entries.length - 1] = { ...open, value: concatenated(open.value, more) };
}

function composeSection(
  { inParts: chunkedText, from, to }: SectionChunks,
  base: number,
  found: Problem[],
  before: ComposedTree | undefined,
): Tree {
  const { text, chunks, starts, troubled } = chunkedText;
  const { shape, key: name } = chunks[from]!.section!;
  const known = entryOf(before?.tree, name)?.value;
  const knownItems = known?.type === 'list' ? known.items : [];
  const knownEntries = known?.type === 'map' ? known.entries : [];
  const items: Item[] = [];
  const entries: Entry[] = [];
  for (let at = from; at < to; at++) {
    const chunk = chunks[at]!;
    const start = starts[at]!;
    if (chunk.stray) {
      found.push(strayLineProblem(text, start, chunk.section));
      continue;
    }
    const shift = start - base;
    const { tree, problems } = chunk.parsed;
    if (troubled > 0) for (const problem of problems) found.push(shiftProblem(problem, start));
    if (tree?.type === 'list') {
      for (const { value } of tree.items) {
        const same = knownItems[items.length];
        items.push(same?.value === value && same?.shift === shift ? same : { value, shift });
      }
    } else if (tree?.type === 'map') {
      for (const { key, value } of tree.entries) {
        const same = knownEntries[entries.length];
        entries.push(same?.key === key && same.shift === shift ? same : { key, value, shift });
      }
    }
  }
  const span: Span = { start: starts[from]! - base, end: (starts[to] ?? text.length) - base };
  if (shape === 'list') return { type: 'list', ...span, flow: false, items };
  const order = (known?.type === 'map' && known.keyIndex) || new KeyIndex();
  return { type: 'map', ...span, flow: false, entries, keyIndex: order };
}

function concatenated(before: Tree | undefined, after: Tree): Tree {
  if (before?.type === 'list' && after.type === 'list')
    return { ...before, end: after.end, items: [...before.items, ...after.items] };
  if (before?.type === 'map' && after.type === 'map')
    return {
      ...before,
      end: after.end,
      entries: [...before.entries, ...after.entries],
      keyIndex: new KeyIndex(),
    };
  return after;
}

/** Problems of keys that occur twice in a section or in the file. */
function duplicateKeyProblems(entries: readonly Entry[]): Problem[] {
  const found: Problem[] = [];
  for (const entry of entries)
    if (entry.value?.type === 'map' && !entry.value.flow)
      reportDuplicates(entry.value.entries, found, entry.shift, true);
  reportDuplicates(entries, found, 0, false);
  return found;
}

/**
 * Reports keys that occur twice. With `apart` only keys of different pieces are compared: those within one piece were
 * compared when it was read.
 */
function reportDuplicates(entries: readonly Entry[], found: Problem[], base: number, apart: boolean): void {
  const seen = new Map<string, Entry>();
  for (const entry of entries) {
    const name = String(entry.key.value);
    const first = seen.get(name);
    const place = ({ key, shift }: Entry): Span => ({
      start: key.start + shift + base,
      end: key.end + shift + base,
    });
    if (!first) seen.set(name, entry);
    else if (!apart || first.shift !== entry.shift)
      found.push(duplicateKeyProblem(name, place(entry), place(first)));
  }
}

/** The problem of stray lines, shown on the first of them. */
function strayLineProblem(text: string, from: number, section: EntryCollection | undefined): Problem {
  const newline = text.indexOf('\n', from);
  const line = text.slice(from, newline < 0 ? text.length : newline).trimEnd();
  const start = from + line.search(/\S|$/);
  const end = from + line.length;
  if (mergeMarker.test(line)) {
    return {
      start,
      end,
      code: 'merge-conflict',
      message: 'A line that a merge left behind. Delete it.',
    };
  }
  const message = /^ *\t/.test(line)
    ? syntaxMessage('TAB_AS_INDENT')
    : `This line belongs to nothing. ${strayLineHint(section)}`;
  return { start, end, code: 'yaml-syntax', message };
}

function strayLineHint(section: EntryCollection | undefined): string {
  if (!section) return 'A key is written `key: value`, with a space after the colon.';
  return section.shape === 'list'
    ? `Entries of \`${section.key}\` begin with \`- \` and line up.`
    : `Entries of \`${section.key}\` are written \`id:\` and line up.`;
}
