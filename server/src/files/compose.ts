import { duplicateKey } from './convert.ts';
import { mergeMarker } from './merge.ts';
import type { InParts, Part } from './parts.ts';
import { shifted, type Problem, type Span } from './problem.ts';
import type { Piece } from './split.ts';
import { syntaxMessage } from './syntaxMessages.ts';
import type { Entry, Item, MapTree, Tree } from './tree.ts';

/**
 * Puts pieces of a text that were read apart into the tree of their file, and their problems into `problems`.
 * Undefined where they do not fit together after all: the file is then to be read whole.
 */
export function compose({ text, parts }: InParts, problems: Problem[]): MapTree | undefined {
  const found: Problem[] = [];
  const entries: Entry[] = [];
  for (let at = 0; at < parts.length; at++) {
    const part = parts[at]!;
    const children: Part[] = [];
    while (parts[at + 1]?.piece.section) children.push(parts[++at]!);
    if (part.piece.stray) {
      found.push(strayLine(part.piece, text));
      goOn(entries, children, { text, found });
      continue;
    }
    const shift = part.piece.start;
    for (const problem of part.parsed.problems) found.push(shifted(problem, shift));
    const { tree } = part.parsed;
    if (tree?.type !== 'map' || tree.entries.length !== 1) {
      if (part.parsed.problems.length === 0) return undefined;
      continue;
    }
    const [entry] = tree.entries as [Entry];
    if (children.length === 0) entries.push({ ...entry, shift });
    else if (entry.value) return undefined;
    else entries.push({ key: entry.key, value: section(children, shift, { text, found }), shift });
  }
  for (const entry of entries)
    if (entry.value?.type === 'map' && entry.value.flow === false)
      reportDuplicates(entry.value.entries, found, entry.shift, true);
  reportDuplicates(entries, found, 0, false);
  problems.push(...found);
  return { type: 'map', start: parts[0]!.piece.start, end: parts.at(-1)!.piece.end, flow: false, entries };
}

/** The text of the file, and the problems found in it so far. */
interface Into {
  readonly text: string;
  readonly found: Problem[];
}

/** Entries after a stray line in the first column go on with the section before it. */
function goOn(entries: Entry[], children: readonly Part[], into: Into): void {
  const open = entries.at(-1);
  if (!open || String(open.key.value) !== children[0]?.piece.section?.key) return;
  const more = section(children, open.shift, into);
  entries[entries.length - 1] = { ...open, value: joined(open.value, more) };
}

function section(children: readonly Part[], base: number, { text, found }: Into): Tree {
  const span: Span = { start: children[0]!.piece.start - base, end: children.at(-1)!.piece.end - base };
  const items: Item[] = [];
  const entries: Entry[] = [];
  for (const { piece, parsed } of children) {
    if (piece.stray) {
      found.push(strayLine(piece, text));
      continue;
    }
    const shift = piece.start - base;
    for (const problem of parsed.problems) found.push(shifted(problem, piece.start));
    if (parsed.tree?.type === 'list') for (const { value } of parsed.tree.items) items.push({ value, shift });
    else if (parsed.tree?.type === 'map')
      for (const { key, value } of parsed.tree.entries) entries.push({ key, value, shift });
  }
  if (children[0]!.piece.section!.shape === 'list') return { type: 'list', ...span, flow: false, items };
  return { type: 'map', ...span, flow: false, entries };
}

function joined(before: Tree | undefined, after: Tree): Tree {
  if (before?.type === 'list' && after.type === 'list')
    return { ...before, end: after.end, items: [...before.items, ...after.items] };
  if (before?.type === 'map' && after.type === 'map')
    return { ...before, end: after.end, entries: [...before.entries, ...after.entries] };
  return after;
}

/** Keys that stand twice. Within a piece they were found when it was read; `apart` looks between pieces only. */
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
      found.push(duplicateKey(name, place(entry), place(first)));
  }
}

function strayLine(piece: Piece, text: string): Problem {
  const line = /^.*/.exec(text.slice(piece.start, piece.end))![0].trimEnd();
  const start = piece.start + line.search(/\S|$/);
  const end = piece.start + line.length;
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
    : `This line belongs to nothing. ${wayOut(piece)}`;
  return { start, end, code: 'yaml-syntax', message };
}

function wayOut({ section }: Piece): string {
  if (!section) return 'A key is written `key: value`, with a space after the colon.';
  return section.shape === 'list'
    ? `Entries of \`${section.key}\` begin with \`- \` and line up.`
    : `Entries of \`${section.key}\` are written \`id:\` and line up.`;
}
