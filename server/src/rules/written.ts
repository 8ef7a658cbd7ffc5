import type { Tree } from '../files/tree.ts';
import { entryOf } from '../files/tree.ts';
import { routeUri } from '../workspace/group.ts';
import type { Project, RouteFile } from '../workspace/project.ts';
import type { RuleContext } from './rule.ts';

/**
 * The names that a project's routes write, whether or not what stands under them is finished. Half a technique
 * is reported where it stands; that everything which speaks of it is then unknown would be no news.
 */
export interface Written {
  readonly techniques: ReadonlySet<string>;
  /** Former id → id of today, where the former one is not in use again. */
  readonly former: ReadonlyMap<string, string>;
  readonly segments: ReadonlySet<string>;
  /** `technique@use` of every use with an id. */
  readonly uses: ReadonlySet<string>;
  /** Techniques that a segment uses, or falls back on. */
  readonly used: ReadonlySet<string>;
  /** Items that a use takes. */
  readonly items: ReadonlySet<string>;
  /** False where a route that is extended is missing or too large to be read: names may be defined there. */
  readonly reachable: boolean;
  /** True where every route was read to its end. */
  readonly whole: boolean;
}

/** What a context's routes write, gathered at most once where the context carries it. */
export function writtenOf({ project, written }: Pick<RuleContext, 'project' | 'written'>): Written {
  return written ?? writtenIn(project);
}

/** Problems that leave some of a file's text unread. */
const leaveUnread: ReadonlySet<string> = new Set([
  'yaml-syntax',
  'merge-conflict',
  'nested-too-deep',
  'aliases-too-large',
  'several-documents',
  'file-too-large',
]);

/** Gathers the names in time linear in the length of the routes. */
export function writtenIn(project: Project): Written {
  const chain = [project.route, ...project.bases];
  const names = {
    techniques: new Set<string>(),
    segments: new Set<string>(),
    uses: new Set<string>(),
    used: new Set<string>(),
    items: new Set<string>(),
  };
  const was: [string, string][] = [];
  for (const { reading } of chain) {
    for (const { key, value } of entriesOf(entryOf(reading.tree, 'techniques')?.value)) {
      names.techniques.add(String(key.value));
      for (const former of textsOf(entryOf(resolved(value), 'was')?.value)) {
        was.push([former, String(key.value)]);
      }
    }
    if (!fullyRead({ reading })) addKeys(reading.text, names.techniques);
  }
  const former = new Map<string, string>();
  for (const [old, id] of was) if (!names.techniques.has(old) && !former.has(old)) former.set(old, id);

  const owner = chain.find(({ reading }) => segmentItems(reading.tree).length > 0) ?? project.route;
  for (const segment of segmentItems(owner.reading.tree)) addSegment(segment, names);
  if (!fullyRead(owner)) addIds(owner.reading.text, names.segments);

  const last = chain.at(-1)!;
  const next = routeUri(last.uri, last.document.extends);
  const reachable =
    (next === undefined || chain.some(({ uri }) => uri === next)) &&
    chain.every(({ reading }) => reading.problems.every(({ code }) => code !== 'file-too-large'));
  return { ...names, former, reachable, whole: reachable && chain.every(fullyRead) };
}

function fullyRead({ reading }: Pick<RouteFile, 'reading'>): boolean {
  return !reading.problems.some(({ code }) => leaveUnread.has(code));
}

function addSegment(
  segment: Tree,
  names: { segments: Set<string>; uses: Set<string>; used: Set<string>; items: Set<string> },
): void {
  const id = textAt(segment, 'id');
  if (id !== undefined) names.segments.add(id);
  for (const use of itemsOf(entryOf(segment, 'techniques')?.value)) {
    const technique = use.type === 'scalar' ? String(use.value) : textAt(use, 'use');
    const useId = textAt(use, 'id');
    const backup = textAt(use, 'backup');
    const take = textAt(use, 'take');
    if (technique !== undefined) names.used.add(technique);
    if (technique !== undefined && useId !== undefined) names.uses.add(`${technique}@${useId}`);
    if (backup !== undefined) names.used.add(backup);
    if (take !== undefined) names.items.add(take);
  }
}

/** Where the text is broken, whatever looks like a key may be a technique's id. */
function addKeys(text: string, ids: Set<string>): void {
  for (const [, id] of text.matchAll(/^[ \t]*["']?([a-z][a-z0-9-]*)["']?[ \t]*:?/gm)) ids.add(id!);
}

function addIds(text: string, ids: Set<string>): void {
  for (const [, id] of text.matchAll(/\bid[ \t]*:[ \t]*["']?([a-z][a-z0-9-]*)/g)) ids.add(id!);
}

function segmentItems(tree: Tree): Tree[] {
  return itemsOf(entryOf(tree, 'segments')?.value);
}

function resolved(tree: Tree | undefined): Tree | undefined {
  return tree?.type === 'alias' ? tree.target : tree;
}

function entriesOf(tree: Tree | undefined) {
  const map = resolved(tree);
  return map?.type === 'map' ? map.entries : [];
}

function itemsOf(tree: Tree | undefined): Tree[] {
  const list = resolved(tree);
  return list?.type === 'list' ? list.items.flatMap(({ value }) => resolved(value) ?? []) : [];
}

function textsOf(tree: Tree | undefined): string[] {
  return itemsOf(tree).flatMap((item) => (item.type === 'scalar' ? [String(item.value)] : []));
}

function textAt(tree: Tree, key: string): string | undefined {
  const value = resolved(entryOf(tree, key)?.value);
  return value?.type === 'scalar' && value.value !== null ? String(value.value) : undefined;
}
