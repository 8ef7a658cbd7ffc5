import * as validators from '../../generated/validators.js';
import { sectionsByKind, type FileKind, type FileSection } from '../fileKind.ts';
import { findChangedRange, replaceChangedRange } from '../../incremental/mapIncremental.ts';
import { shiftProblem, type Problem, type Span } from '../yaml/problem.ts';
import { describeInvalidId, isId } from './ids.ts';
import { keyIndexFor, type Entry, type Item, type MapTree, type Tree } from '../yaml/tree.ts';
import { validateTree, type ValidationResult } from './validateTree.ts';
import { withIndices } from '../yaml/value.ts';

/** One file as it was read, to be checked. */
interface UncheckedFile {
  readonly kind: FileKind;
  readonly text: string;
  readonly tree: MapTree;
  /**
   * Where the text itself is broken: a problem found there may only be a consequence of that. In the order of the text,
   * none within another.
   */
  readonly broken: readonly Span[];
  /** True where no key of a section occurs twice; false where that is not known. */
  readonly distinct: boolean;
  /** The problems found by reading the text; those found by checking are added. */
  readonly problems: Problem[];
  /** The checked sections of the previous reading. */
  readonly previous: CheckedSections | undefined;
}

/** One checked entry of a section: the same object as long as the entry does not change. */
export interface CheckedEntry extends ValidationResult {
  /** The key of a map's entry. */
  readonly name: string | undefined;
  /** Where it stands, without its item's shift. */
  readonly span: Span;
  readonly tree: Tree | undefined;
}

/** A section's entries in the order of the file. */
export interface CheckedSection {
  /** The tree's own items or entries. */
  readonly items: readonly SectionNode[];
  readonly entries: readonly CheckedEntry[];
  /** How many of the entries have problems or no value. */
  readonly invalidCount: number;
  /** Whether a key occurs twice. */
  readonly hasDuplicates: boolean;
}

/** By the section's key. */
export type CheckedSections = ReadonlyMap<string, CheckedSection>;

/** An item of a list, or an entry of a map. */
type SectionNode = Item | Entry;

/** Checks a file's tree against its schema, entry by entry, and gives the value that fits it. */
export function checkFile(source: UncheckedFile): {
  outer: Record<string, unknown>;
  sections: CheckedSections;
} {
  return new FileChecker(source).check();
}

/** A section's value: a list that remembers where its items stood, or a map. */
export function sectionValue({ shape }: FileSection, { entries, invalidCount }: CheckedSection): unknown {
  if (shape === 'list') {
    if (invalidCount === 0) return entries.map(({ value }) => value);
    const kept = [...entries.keys()].filter((at) => entries[at]!.value !== undefined);
    return withIndices(
      kept.map((at) => entries[at]!.value),
      kept,
    );
  }
  const map = Object.create(null) as Record<string, unknown>;
  for (const { name, value } of entries) if (value !== undefined) map[name!] = value;
  return map;
}

class FileChecker {
  private readonly source: UncheckedFile;

  constructor(source: UncheckedFile) {
    this.source = source;
  }

  check(): { outer: Record<string, unknown>; sections: CheckedSections } {
    const { kind, tree } = this.source;
    const checked = new Map<string, CheckedSection>();
    const others: Entry[] = [];
    for (const { key, value, shift } of tree.entries) {
      const section = sectionsByKind[kind].find((one) => one.key === key.value);
      const nodes =
        section?.shape === 'list' && value?.type === 'list'
          ? value.items
          : section?.shape === 'map' && value?.type === 'map'
            ? value.entries
            : undefined;
      if (!section || !nodes) others.push({ key, value, shift });
      else if (!checked.has(section.key)) checked.set(section.key, this.section(section, nodes, shift));
    }
    // Where nothing at all was read, that is reported already.
    const outer = tree.end > tree.start ? this.outer(others) : {};
    return { outer, sections: checked };
  }

  /** Everything outside the sections. */
  private outer(entries: readonly Entry[]): Record<string, unknown> {
    const { kind, tree } = this.source;
    const { type, start, end, flow } = tree;
    const { value, problems } = validateTree(
      kind,
      [],
      { type, start, end, flow, entries, ...keyIndexFor(entries) },
      validators[kind],
      (rest) => rest,
    );
    for (const problem of problems) {
      // A missing key may be in the text that could not be read.
      if (problem.code === 'missing-key' && this.source.broken.length > 0) continue;
      const within = entries
        .map(entrySpan)
        .find(({ start, end }) => start <= problem.start && problem.start <= end);
      this.report([problem], 0, within ?? problem);
    }
    return (value ?? {}) as Record<string, unknown>;
  }

  private section(section: FileSection, items: readonly SectionNode[], shift: number): CheckedSection {
    const { distinct, previous } = this.source;
    const before = previous?.get(section.key);
    const duplicates =
      section.shape === 'list' || distinct ? undefined : duplicateEntries(items as readonly Entry[]);
    // Which of two entries with one key counts depends on the other entries.
    const repeats = duplicates !== undefined && duplicates.size > 0;
    const difference =
      before && !before.hasDuplicates && !repeats
        ? findChangedRange(before.items, items, sameNode)
        : { start: 0, oldEnd: before?.entries.length ?? 0, newEnd: items.length };
    const fresh = items
      .slice(difference.start, difference.newEnd)
      .map((node) => (duplicates?.has(node) ? ignoredEntry(node) : this.entry(section, node)));
    const entries = replaceChangedRange(before?.entries ?? [], difference, fresh);
    const removed = before?.entries.slice(difference.start, difference.oldEnd) ?? [];
    const invalidCount = (before?.invalidCount ?? 0) - countInvalid(removed) + countInvalid(fresh);
    if (invalidCount > 0) {
      for (const [at, { problems, span }] of entries.entries())
        this.report(problems, shift + items[at]!.shift, span);
    }
    return { items, entries, invalidCount, hasDuplicates: repeats };
  }

  /** Checks one entry, independently of the others. */
  private entry(section: FileSection, node: SectionNode): CheckedEntry {
    const key = 'key' in node ? node.key : undefined;
    const name = key && String(key.value);
    if (key && !isId(name!)) {
      const message = describeInvalidId(name!);
      const problem: Problem = { start: key.start, end: key.end, code: 'invalid-id', message };
      return { name, value: undefined, problems: [problem], span: key, tree: node.value };
    }
    // Where no value is written yet, problems are shown at the key.
    const tree = node.value ?? (key && { ...key, value: null });
    if (!tree) return ignoredEntry(node);
    const context = (value: unknown) => ({
      [section.key]: section.shape === 'list' ? [value] : { [name!]: value },
    });
    const { value, problems } = validateTree(
      this.source.kind,
      [section.key, name ?? 0],
      tree,
      validators[section.entry],
      context,
      key,
    );
    return { name, value, problems, span: { start: (key ?? tree).start, end: tree.end }, tree: node.value };
  }

  /**
   * Adds the problems of a node with the span `within`, unless the text itself is broken there. Problems and span are
   * moved by `shift`.
   */
  private report(found: readonly Problem[], shift: number, within: Span): void {
    if (found.length === 0) return;
    const start = within.start + shift;
    const end = within.end + shift;
    const { broken } = this.source;
    const next = firstAfter(broken, end);
    const before = broken[next - 1];
    if (before && start < before.end) return;
    const cut = next < broken.length && this.isFollowedBy(end, broken[next]!);
    for (const problem of found) {
      if (problem.code !== 'missing-key' || !cut) this.source.problems.push(shiftProblem(problem, shift));
    }
  }

  /** Whether only blanks stand between the end of a node and a broken line: the node may continue there. */
  private isFollowedBy(end: number, { start }: Span): boolean {
    const gap = start - end;
    return gap >= 0 && gap < 200 && this.source.text.slice(end, start).trim() === '';
  }
}

/** Index of the first of the ascending spans that begins after an offset. */
function firstAfter(spans: readonly Span[], offset: number): number {
  let low = 0;
  let high = spans.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (spans[middle]!.start <= offset) low = middle + 1;
    else high = middle;
  }
  return low;
}

function sameNode(a: SectionNode, b: SectionNode): boolean {
  return a.value === b.value && ('key' in a ? a.key === (b as Entry).key : a.value !== undefined);
}

/** The result for an entry that does not count: an empty item, or a key that occurred before. */
function ignoredEntry(node: SectionNode): CheckedEntry {
  const name = 'key' in node ? String(node.key.value) : undefined;
  return { name, value: undefined, problems: [], span: { start: 0, end: 0 }, tree: node.value };
}

/** Entries whose key occurred before. */
function duplicateEntries(entries: readonly Entry[]): Set<SectionNode> {
  const seen = new Set<string>();
  return new Set(
    entries.filter(({ key }) => {
      const name = String(key.value);
      return seen.has(name) || !seen.add(name);
    }),
  );
}

function countInvalid(entries: readonly CheckedEntry[]): number {
  return entries.filter(({ value, problems }) => value === undefined || problems.length > 0).length;
}

function entrySpan({ key, value, shift }: Entry): Span {
  return { start: key.start + shift, end: Math.max(key.end, value?.end ?? 0) + shift };
}
