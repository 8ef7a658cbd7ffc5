import * as validators from '../generated/validators.js';
import { sections, type FileKind, type Section } from './kinds.ts';
import { shifted, type Problem, type Span } from './problem.ts';
import { commonSchema } from './schema.ts';
import type { Entry, ListTree, MapTree, Tree } from './tree.ts';
import { check, type Checked } from './validate.ts';
import { withIndices } from './value.ts';

const idPattern = new RegExp(commonSchema('id').pattern ?? '');

/** What is read from one file, to be checked. */
interface Source {
  readonly kind: FileKind;
  readonly text: string;
  readonly tree: MapTree;
  /** Where the text itself is broken: what is missing or wrong there may only seem so. */
  readonly broken: readonly Span[];
  /** What reading the text found wrong; what checking finds is added. */
  readonly problems: Problem[];
  /** What was checked of each entry at the reading before. */
  readonly previous: ReadonlyMap<Tree, Checked> | undefined;
}

/** Checks a file's tree against its schema, entry by entry, and gives the value that fits it. */
export function checkFile(source: Source): { value: Record<string, unknown>; entries: Map<Tree, Checked> } {
  return new Checker(source).check();
}

class Checker {
  private readonly entries = new Map<Tree, Checked>();
  private readonly source: Source;

  constructor(source: Source) {
    this.source = source;
  }

  check(): { value: Record<string, unknown>; entries: Map<Tree, Checked> } {
    const { kind, tree } = this.source;
    const value = Object.create(null) as Record<string, unknown>;
    const others: Entry[] = [];
    for (const entry of tree.entries) {
      const section = sections[kind].find(({ key }) => key === entry.key.value);
      if (section?.shape === 'list' && entry.value?.type === 'list')
        value[section.key] ??= this.list(section, entry.value, entry.shift);
      else if (section?.shape === 'map' && entry.value?.type === 'map')
        value[section.key] ??= this.map(section, entry.value, entry.shift);
      else others.push(entry);
    }
    // Where nothing at all was read, that has been said.
    if (tree.end > tree.start) Object.assign(value, { ...this.outer(others), ...value });
    return { value, entries: this.entries };
  }

  /** Everything outside the sections. */
  private outer(entries: readonly Entry[]): Record<string, unknown> {
    const { kind, tree } = this.source;
    const { value, problems } = check(kind, [], { ...tree, entries }, validators[kind], (rest) => rest);
    for (const problem of problems) {
      // What is missing may stand in the text that could not be read.
      if (problem.code === 'missing-key' && this.source.broken.length > 0) continue;
      const within = entries
        .map(entrySpan)
        .find(({ start, end }) => start <= problem.start && problem.start <= end);
      this.report([problem], 0, within ?? problem);
    }
    return (value ?? {}) as Record<string, unknown>;
  }

  private list(section: Section, tree: ListTree, shift: number): unknown[] {
    const kept: unknown[] = [];
    const indices: number[] = [];
    for (const [index, item] of tree.items.entries()) {
      const value = item.value && this.entry(section, 0, item.value, shift + item.shift);
      if (value === undefined) continue;
      kept.push(value);
      indices.push(index);
    }
    return withIndices(kept, indices);
  }

  private map(section: Section, tree: MapTree, shift: number): Record<string, unknown> {
    const map = Object.create(null) as Record<string, unknown>;
    const seen = new Set<string>();
    for (const { key, value: child, shift: inner } of tree.entries) {
      const name = String(key.value);
      if (seen.has(name)) continue;
      seen.add(name);
      if (!idPattern.test(name)) {
        const message = `\`${name}\` is no valid id: lower-case letters, digits and hyphens, a letter first.`;
        this.report([{ start: key.start, end: key.end, code: 'invalid-id', message }], shift + inner);
        continue;
      }
      // Where nothing is written yet, the key is the place to speak of.
      const value = this.entry(section, name, child ?? { ...key, value: null }, shift + inner, key);
      if (value !== undefined) map[name] = value;
    }
    return map;
  }

  private entry(section: Section, name: string | number, tree: Tree, shift: number, key?: Span): unknown {
    const context = (value: unknown) => ({
      [section.key]: section.shape === 'list' ? [value] : { [name]: value },
    });
    const checked =
      this.entries.get(tree) ??
      this.source.previous?.get(tree) ??
      check(this.source.kind, [section.key, name], tree, validators[section.entry], context, key);
    this.entries.set(tree, checked);
    this.report(checked.problems, shift, { start: (key ?? tree).start, end: tree.end });
    return checked.value;
  }

  /** Adds what was found in `within` (both before the shift), unless the text itself is broken there. */
  private report(found: readonly Problem[], shift: number, within: Span = found[0]!): void {
    if (found.length === 0) return;
    const start = within.start + shift;
    const end = within.end + shift;
    const { broken } = this.source;
    if (broken.some((span) => span.start <= end && start < span.end)) return;
    const cut = broken.some((span) => this.follows(end, span));
    for (const problem of found) {
      if (problem.code !== 'missing-key' || !cut) this.source.problems.push(shifted(problem, shift));
    }
  }

  /** True where only blanks stand between the end of something and a broken line: it may go on there. */
  private follows(end: number, { start }: Span): boolean {
    const gap = start - end;
    return gap >= 0 && gap < 200 && this.source.text.slice(end, start).trim() === '';
  }
}

function entrySpan({ key, value, shift }: Entry): Span {
  return { start: key.start + shift, end: Math.max(key.end, value?.end ?? 0) + shift };
}
