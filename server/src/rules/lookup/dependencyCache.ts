import type { Technique } from '../../files/documents/documents.ts';
import {
  findChangedRange,
  mapIncremental,
  replaceChangedRange,
  type MappedList,
} from '../../incremental/mapIncremental.ts';
import type { WithUri, Project } from '../../workspace/project.ts';

/** What a rule may use that checks one entry of a route. All that it looks up is recorded: see `EntryFindingCache`. */
export interface EntryContext {
  /** URI of the route that the entry stands in. */
  readonly uri: string;
  technique(id: string): WithUri<Technique> | undefined;
}

interface CachedResult<Out> {
  /** Ids of the techniques that were looked up; undefined where none was. */
  readonly lookedUp: ReadonlySet<string> | undefined;
  readonly result: Out;
}

interface CachedRun<Entry, Out> extends MappedList<Entry, CachedResult<Out>> {
  readonly techniques: Project['techniques']['list'];
}

/**
 * Results for each of a route's segments or techniques, kept as long as the entry and every technique that was looked
 * up for it are the very same objects.
 */
export class DependencyCache<Entry, Out> {
  private before: CachedRun<Entry, Out> | undefined;
  private readonly compute: (entry: Entry, context: EntryContext) => Out;

  constructor(compute: (entry: Entry, context: EntryContext) => Out) {
    this.compute = compute;
  }

  /** @param entries of the project's route: segments, or techniques */
  resultsFor(entries: readonly Entry[], project: Project): readonly CachedResult<Out>[] {
    const { before } = this;
    const computeOne = (entry: Entry) => this.computeTracked(entry, project);
    const mapped = mapIncremental(before, entries, computeOne);
    const changed = before ? changedIds(before.techniques, project.techniques.list) : [];
    const to =
      changed.length > 0
        ? recompute(mapped.outputs, changed, (at) => computeOne(entries[at]!))
        : mapped.outputs;
    this.before = { inputs: entries, outputs: to, techniques: project.techniques.list };
    return to;
  }

  private computeTracked(entry: Entry, { route, techniques }: Project): CachedResult<Out> {
    let lookedUp: Set<string> | undefined;
    const technique = (id: string): WithUri<Technique> | undefined => {
      (lookedUp ??= new Set()).add(id);
      return techniques.get(id);
    };
    const out = this.compute(entry, { uri: route.uri, technique });
    return { lookedUp, result: out };
  }
}

/** Ids whose technique changed, was added or was removed. */
function changedIds(
  before: readonly WithUri<Technique>[],
  now: readonly WithUri<Technique>[],
): readonly string[] {
  if (before === now) return [];
  const { start: from, oldEnd: was, newEnd: is } = findChangedRange(before, now);
  return [...new Set([...before.slice(from, was), ...now.slice(from, is)].map(({ id }) => id))];
}

/** The results, those that looked up one of the techniques computed again. */
function recompute<Out>(
  kept: readonly CachedResult<Out>[],
  ids: readonly string[],
  computeOne: (at: number) => CachedResult<Out>,
): readonly CachedResult<Out>[] {
  let list = kept;
  for (const [at, { lookedUp }] of kept.entries())
    if (lookedUp && ids.some((id) => lookedUp.has(id)))
      list = replaceChangedRange(list, { start: at, oldEnd: at + 1, newEnd: at + 1 }, [computeOne(at)]);
  return list;
}
