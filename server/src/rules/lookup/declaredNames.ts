import { useName } from '../../files/schema/ids.ts';
import type { CheckedEntry } from '../../files/schema/checkFile.ts';
import type { Reading } from '../../files/reading/reading.ts';
import type { Tree } from '../../files/yaml/tree.ts';
import { entryOf } from '../../files/yaml/tree.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { Project, RouteFile } from '../../workspace/project.ts';
import { EntryIndex } from './entryIndex.ts';
import { UnionNameSet, TentativeNameSet, type NameSet } from './nameSet.ts';
import { routeIndexOf } from './routeIndex.ts';
import type { LookupContext } from './lookupContext.ts';

/**
 * The names that a project's routes write, also of entries that are not finished. An unfinished technique is reported
 * where it stands; to report every reference to it as unknown would say nothing new.
 */
export interface DeclaredNames {
  readonly techniques: NameSet;
  /** Former id → id of today, where the former one is not in use again. */
  readonly renamed: ReadonlyMap<string, string>;
  readonly segments: NameSet;
  /** `technique@use` of every use with an id. */
  readonly uses: NameSet;
  /** Techniques that a segment uses, or falls back on. */
  readonly used: NameSet;
  /** Techniques that one of the route itself needs. */
  readonly needed: NameSet;
  /** Items that a use takes. */
  readonly items: NameSet;
  /** False where a route that is extended is missing or not read: names may be defined there. */
  readonly allRoutesFound: boolean;
  /** True where every route was read to its end. */
  readonly isComplete: boolean;
}

/** The names that a context's routes write: those in the context, where it has them already. */
export function declaredNames(
  context: Pick<LookupContext, 'project' | 'routeIndex'> & { readonly declaredNames?: DeclaredNames },
): DeclaredNames {
  return context.declaredNames ?? gatherNames(context.project, routeIndexOf(context).entries);
}

/** An entry as it is written, with or without errors. */
type UncheckedEntry = Pick<CheckedEntry, 'name' | 'tree'>;

/**
 * Gathers the names.
 *
 * @param index keeps the names of the route itself from one check to the next
 */
function gatherNames(project: Project, index: EntryIndex): DeclaredNames {
  const { route, bases } = project;
  const chain = [route, ...bases];
  const indexFor = (file: RouteFile) => (file === route ? index : new EntryIndex());
  const techniques = unionOf(
    chain.map((file) => {
      const names = indexFor(file).countNames(entriesOf(file, 'techniques'), techniqueName);
      return withTentative(names, file.reading, atLineStart);
    }),
  );
  const needed = index.countNames(entriesOf(route, 'techniques'), neededNames);
  const renamed = new Map<string, string>();
  for (const file of chain)
    for (const [old, id] of indexFor(file).collect(entriesOf(file, 'techniques'), formerNames))
      if (!techniques.has(old) && !renamed.has(old)) renamed.set(old, id);

  const owner = chain.find((file) => entriesOf(file, 'segments').some(({ tree }) => resolved(tree))) ?? route;
  const last = chain.at(-1)!;
  const next = routeUri(last.uri, last.document.extends);
  const allRoutesFound =
    (next === undefined || chain.some(({ uri }) => uri === next)) &&
    chain.every(({ reading }) => !reading.unread);
  const isComplete = allRoutesFound && chain.every(({ reading }) => namesAreRead(reading));
  return {
    techniques,
    renamed,
    needed,
    ...inSegments(owner, indexFor(owner)),
    allRoutesFound,
    isComplete,
  };
}

function inSegments(
  file: RouteFile,
  index: EntryIndex,
): Pick<DeclaredNames, 'segments' | 'uses' | 'used' | 'items'> {
  const entries = entriesOf(file, 'segments');
  const segments = index.countNames(entries, segmentId);
  return {
    segments: withTentative(segments, file.reading, anywhere),
    uses: index.countNames(entries, useNames),
    used: index.countNames(entries, usedNames),
    items: index.countNames(entries, itemNames),
  };
}

function unionOf(names: readonly NameSet[]): NameSet {
  return names.length === 1 ? names[0]! : new UnionNameSet(names);
}

/** The names that were read, and where a text was not fully read, also its words that may be names. */
function withTentative(names: NameSet, reading: Reading, mayStand: RegExp): NameSet {
  return namesAreRead(reading) ? names : new TentativeNameSet(names, reading.text, mayStand);
}

/** A technique's id is a key. */
const atLineStart = /^[ \t]*["']?([a-z0-9-]+)/gm;

/** A segment's id may stand anywhere. */
const anywhere = /([a-z0-9-]+)/g;

/** The entries of a section, whether or not their file could be read entry by entry. */
function entriesOf({ reading }: RouteFile, section: 'segments' | 'techniques'): readonly UncheckedEntry[] {
  const checked = reading.sections.get(section);
  if (checked) return checked.entries;
  const tree = resolved(entryOf(reading.tree, section)?.value);
  if (tree?.type === 'map')
    return tree.entries.map(({ key, value }) => ({ name: String(key.value), tree: value }));
  return tree?.type === 'list' ? tree.items.map(({ value }) => ({ name: undefined, tree: value })) : [];
}

const techniqueName = ({ name }: UncheckedEntry): string[] => (name === undefined ? [] : [name]);

const neededNames = ({ tree }: UncheckedEntry): string[] => textsOf(entryOf(resolved(tree), 'needs')?.value);

/** Former id and the id of today. */
function formerNames({ name, tree }: UncheckedEntry): (readonly [string, string])[] {
  const technique = resolved(tree);
  if (!technique || name === undefined) return [];
  return textsOf(entryOf(technique, 'was')?.value).map((renamed) => [renamed, name] as const);
}

function segmentId({ tree }: UncheckedEntry): string[] {
  const id = textAt(resolved(tree), 'id');
  return id === undefined ? [] : [id];
}

const useNames = ({ tree }: UncheckedEntry): string[] =>
  usesIn(tree).flatMap(({ technique, id }) =>
    technique !== undefined && id !== undefined ? [useName(technique, id)] : [],
  );

const usedNames = ({ tree }: UncheckedEntry): string[] =>
  usesIn(tree).flatMap(({ technique, backup }) => [technique, backup].filter((one) => one !== undefined));

const itemNames = ({ tree }: UncheckedEntry): string[] =>
  usesIn(tree).flatMap(({ take }) => (take === undefined ? [] : [take]));

function usesIn(segment: Tree | undefined) {
  return itemsOf(entryOf(resolved(segment), 'techniques')?.value).map((use) => ({
    technique: use.type === 'scalar' ? String(use.value) : textAt(use, 'use'),
    id: textAt(use, 'id'),
    backup: textAt(use, 'backup'),
    take: textAt(use, 'take'),
  }));
}

/** Problems of a single value: all names around it have been read. */
const singleValueCodes: ReadonlySet<string> = new Set([
  'difficulty-out-of-scale',
  'out-of-range',
  'unreadable-time',
]);

/** False where a name may stand in what could not be read, or was not understood. */
function namesAreRead({ problems }: Reading): boolean {
  return problems.every(({ code }) => singleValueCodes.has(code));
}

function resolved(tree: Tree | undefined): Tree | undefined {
  return tree?.type === 'alias' ? tree.target : tree;
}

function itemsOf(tree: Tree | undefined): Tree[] {
  const list = resolved(tree);
  if (list?.type !== 'list') return [];
  return list.items.map(({ value }) => resolved(value)).filter((value) => value !== undefined);
}

function textsOf(tree: Tree | undefined): string[] {
  return itemsOf(tree).flatMap((item) => (item.type === 'scalar' ? [String(item.value)] : []));
}

function textAt(tree: Tree | undefined, key: string): string | undefined {
  const value = resolved(entryOf(tree, key)?.value);
  return value?.type === 'scalar' && value.value !== null ? String(value.value) : undefined;
}
