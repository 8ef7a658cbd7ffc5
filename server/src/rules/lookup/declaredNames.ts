import type { CheckedEntry } from '../../files/schema/checkFile.ts';
import type { Reading } from '../../files/yaml/reading.ts';
import type { Tree } from '../../files/yaml/tree.ts';
import { entryOf } from '../../files/yaml/tree.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { Project, RouteFile } from '../../workspace/project.ts';
import { EntryMemory } from '../engine/entryIndex.ts';
import { AnyOf, MaybeMore, type Names } from './nameSet.ts';
import { memoryOf } from '../engine/routeIndex.ts';
import type { RuleContext } from '../engine/rule.ts';

/**
 * The names that a project's routes write, whether or not what stands under them is finished. Half a technique
 * is reported where it stands; that everything which speaks of it is then unknown would be no news.
 */
export interface Written {
  readonly techniques: Names;
  /** Former id → id of today, where the former one is not in use again. */
  readonly former: ReadonlyMap<string, string>;
  readonly segments: Names;
  /** `technique@use` of every use with an id. */
  readonly uses: Names;
  /** Techniques that a segment uses, or falls back on. */
  readonly used: Names;
  /** Techniques that one of the route itself needs. */
  readonly needed: Names;
  /** Items that a use takes. */
  readonly items: Names;
  /** False where a route that is extended is missing or too large to be read: names may be defined there. */
  readonly reachable: boolean;
  /** True where every route was read to its end. */
  readonly whole: boolean;
}

/** What a context's routes write, gathered at most once where the context carries it. */
export function writtenOf(context: Pick<RuleContext, 'project' | 'written' | 'memory'>): Written {
  return context.written ?? gather(context.project, memoryOf(context).entries);
}

/** An entry as it is written. */
type WrittenEntry = Pick<CheckedEntry, 'name' | 'tree'>;

/**
 * Gathers the names.
 *
 * @param memory of the names that the route itself wrote before
 */
function gather(project: Project, memory: EntryMemory): Written {
  const { route, bases } = project;
  const chain = [route, ...bases];
  const memoryFor = (file: RouteFile) => (file === route ? memory : new EntryMemory());
  const techniques = anyOf(
    chain.map((file) => {
      const names = memoryFor(file).tally(entriesOf(file, 'techniques'), techniqueName);
      return orMore(names, file.reading, atLineStart);
    }),
  );
  const needed = memory.tally(entriesOf(route, 'techniques'), neededNames);
  const former = new Map<string, string>();
  for (const file of chain)
    for (const [old, id] of memoryFor(file).pick(entriesOf(file, 'techniques'), formerNames))
      if (!techniques.has(old) && !former.has(old)) former.set(old, id);

  const owner = chain.find((file) => entriesOf(file, 'segments').some(({ tree }) => resolved(tree))) ?? route;
  const last = chain.at(-1)!;
  const next = routeUri(last.uri, last.document.extends);
  const reachable =
    (next === undefined || chain.some(({ uri }) => uri === next)) &&
    chain.every(({ reading }) => reading.problems.every(({ code }) => code !== 'file-too-large'));
  const whole = reachable && chain.every(({ reading }) => namesAreRead(reading));
  return { techniques, former, needed, ...inSegments(owner, memoryFor(owner)), reachable, whole };
}

function inSegments(
  file: RouteFile,
  memory: EntryMemory,
): Pick<Written, 'segments' | 'uses' | 'used' | 'items'> {
  const entries = entriesOf(file, 'segments');
  const segments = memory.tally(entries, segmentId);
  return {
    segments: orMore(segments, file.reading, anywhere),
    uses: memory.tally(entries, useNames),
    used: memory.tally(entries, usedNames),
    items: memory.tally(entries, itemNames),
  };
}

function anyOf(names: readonly Names[]): Names {
  return names.length === 1 ? names[0]! : new AnyOf(names);
}

/** The names that were read, and where something was not, whatever may be one. */
function orMore(names: Names, reading: Reading, mayStand: (before: string) => boolean): Names {
  return namesAreRead(reading) ? names : new MaybeMore(names, reading.text, mayStand);
}

/** A technique's id is a key. */
const atLineStart = (before: string): boolean => /^[ \t]*["']?$/.test(before);

/** A segment's id may stand anywhere. */
const anywhere = (): boolean => true;

/** The entries of a section, whether or not their file could be read entry by entry. */
function entriesOf({ reading }: RouteFile, section: 'segments' | 'techniques'): readonly WrittenEntry[] {
  const checked = reading.sections.get(section);
  if (checked) return checked.entries;
  const tree = resolved(entryOf(reading.tree, section)?.value);
  if (tree?.type === 'map')
    return tree.entries.map(({ key, value }) => ({ name: String(key.value), tree: value }));
  return tree?.type === 'list' ? tree.items.map(({ value }) => ({ name: undefined, tree: value })) : [];
}

const techniqueName = ({ name }: WrittenEntry): string[] => (name === undefined ? [] : [name]);

const neededNames = ({ tree }: WrittenEntry): string[] => textsOf(entryOf(resolved(tree), 'needs')?.value);

/** Former id and the id of today. */
function formerNames({ name, tree }: WrittenEntry): (readonly [string, string])[] {
  const technique = resolved(tree);
  if (!technique || name === undefined) return [];
  return textsOf(entryOf(technique, 'was')?.value).map((former) => [former, name] as const);
}

function segmentId({ tree }: WrittenEntry): string[] {
  const id = textAt(resolved(tree), 'id');
  return id === undefined ? [] : [id];
}

const useNames = ({ tree }: WrittenEntry): string[] =>
  usesIn(tree).flatMap(({ technique, id }) =>
    technique !== undefined && id !== undefined ? [`${technique}@${id}`] : [],
  );

const usedNames = ({ tree }: WrittenEntry): string[] =>
  usesIn(tree).flatMap(({ technique, backup }) => [technique, backup].filter((one) => one !== undefined));

const itemNames = ({ tree }: WrittenEntry): string[] =>
  usesIn(tree).flatMap(({ take }) => (take === undefined ? [] : [take]));

function usesIn(segment: Tree | undefined) {
  return itemsOf(entryOf(resolved(segment), 'techniques')?.value).map((use) => ({
    technique: use.type === 'scalar' ? String(use.value) : textAt(use, 'use'),
    id: textAt(use, 'id'),
    backup: textAt(use, 'backup'),
    take: textAt(use, 'take'),
  }));
}

/** Problems of a single value: every name beside it has been read. */
const ofOneValue: ReadonlySet<string> = new Set([
  'difficulty-out-of-scale',
  'out-of-range',
  'unreadable-time',
]);

/** False where a name may stand in what could not be read, or was not understood. */
function namesAreRead({ problems }: Reading): boolean {
  return problems.every(({ code }) => ofOneValue.has(code));
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
