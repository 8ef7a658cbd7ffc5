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
  return written ?? new WrittenNames().of(project);
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

/** The names that one segment writes. */
interface SegmentNames {
  readonly id: string | undefined;
  readonly uses: readonly string[];
  readonly used: readonly string[];
  readonly items: readonly string[];
}

/** Gathers the names in time linear in the length of the routes; keeps what each entry writes for the next time. */
export class WrittenNames {
  private readonly segments = new WeakMap<Tree, SegmentNames>();
  private readonly former = new WeakMap<Tree, readonly string[]>();

  of(project: Project): Written {
    const chain = [project.route, ...project.bases];
    const techniques = new Set<string>();
    const was: [string, string][] = [];
    for (const { reading } of chain) {
      for (const { key, value } of entriesOf(entryOf(reading.tree, 'techniques')?.value)) {
        const id = String(key.value);
        techniques.add(id);
        for (const former of value ? this.formerOf(value) : []) was.push([former, id]);
      }
      if (!fullyRead({ reading })) addKeys(reading.text, techniques);
    }
    const former = new Map<string, string>();
    for (const [old, id] of was) if (!techniques.has(old) && !former.has(old)) former.set(old, id);

    const owner = chain.find(({ reading }) => hasSegments(reading.tree)) ?? project.route;
    const last = chain.at(-1)!;
    const next = routeUri(last.uri, last.document.extends);
    const reachable =
      (next === undefined || chain.some(({ uri }) => uri === next)) &&
      chain.every(({ reading }) => reading.problems.every(({ code }) => code !== 'file-too-large'));
    const whole = reachable && chain.every(fullyRead);
    return { techniques, former, ...this.inSegments(owner), reachable, whole };
  }

  private inSegments({ reading }: RouteFile): Pick<Written, 'segments' | 'uses' | 'used' | 'items'> {
    const segments = new Set<string>();
    const uses = new Set<string>();
    const used = new Set<string>();
    const items = new Set<string>();
    for (const segment of segmentItems(reading.tree)) {
      const names = this.namesOf(segment);
      if (names.id !== undefined) segments.add(names.id);
      for (const use of names.uses) uses.add(use);
      for (const technique of names.used) used.add(technique);
      for (const item of names.items) items.add(item);
    }
    if (!fullyRead({ reading })) addIds(reading.text, segments);
    return { segments, uses, used, items };
  }

  private namesOf(segment: Tree): SegmentNames {
    const kept = this.segments.get(segment);
    if (kept) return kept;
    const names = namesIn(segment);
    this.segments.set(segment, names);
    return names;
  }

  private formerOf(technique: Tree): readonly string[] {
    const kept = this.former.get(technique);
    if (kept) return kept;
    const former = textsOf(entryOf(resolved(technique), 'was')?.value);
    this.former.set(technique, former);
    return former;
  }
}

function fullyRead({ reading }: Pick<RouteFile, 'reading'>): boolean {
  return !reading.problems.some(({ code }) => leaveUnread.has(code));
}

function namesIn(segment: Tree): SegmentNames {
  const uses: string[] = [];
  const used: string[] = [];
  const items: string[] = [];
  for (const use of itemsOf(entryOf(segment, 'techniques')?.value)) {
    const technique = use.type === 'scalar' ? String(use.value) : textAt(use, 'use');
    const useId = textAt(use, 'id');
    const backup = textAt(use, 'backup');
    const take = textAt(use, 'take');
    if (technique !== undefined) used.push(technique);
    if (technique !== undefined && useId !== undefined) uses.push(`${technique}@${useId}`);
    if (backup !== undefined) used.push(backup);
    if (take !== undefined) items.push(take);
  }
  return { id: textAt(segment, 'id'), uses, used, items };
}

/** Where the text is broken, whatever looks like a key may be a technique's id. */
function addKeys(text: string, ids: Set<string>): void {
  for (const [, id] of text.matchAll(/^[ \t]*["']?([a-z][a-z0-9-]*)["']?[ \t]*:?/gm)) ids.add(id!);
}

function addIds(text: string, ids: Set<string>): void {
  for (const [, id] of text.matchAll(/\bid[ \t]*:[ \t]*["']?([a-z][a-z0-9-]*)/g)) ids.add(id!);
}

function hasSegments(tree: Tree): boolean {
  const list = resolved(entryOf(tree, 'segments')?.value);
  return list?.type === 'list' && list.items.some(({ value }) => resolved(value));
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
  if (list?.type !== 'list') return [];
  return list.items.map(({ value }) => resolved(value)).filter((value) => value !== undefined);
}

function textsOf(tree: Tree | undefined): string[] {
  return itemsOf(tree).flatMap((item) => (item.type === 'scalar' ? [String(item.value)] : []));
}

function textAt(tree: Tree, key: string): string | undefined {
  const value = resolved(entryOf(tree, key)?.value);
  return value?.type === 'scalar' && value.value !== null ? String(value.value) : undefined;
}
