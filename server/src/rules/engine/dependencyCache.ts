import type { Technique } from '../../files/documents/documents.ts';
import { carried, differenceOf, spliced } from '../../incremental/mapIncremental.ts';
import type { Defined, Project } from '../../workspace/project.ts';
import type { Beside } from './rule.ts';

interface Kept<Out> {
  /** Ids of the techniques that were looked up; undefined where none was. */
  readonly lookedUp: ReadonlySet<string> | undefined;
  readonly out: Out;
}

interface Before<Entry, Out> {
  readonly from: readonly Entry[];
  readonly to: readonly Kept<Out>[];
  readonly techniques: Project['techniques']['list'];
}

/**
 * What was found out about each of a route's segments or techniques, kept as long as the entry and every technique
 * that was looked up for it are the very same objects.
 */
export class KeptBeside<Entry, Out> {
  private before: Before<Entry, Out> | undefined;
  private readonly look: (entry: Entry, beside: Beside) => Out;

  constructor(look: (entry: Entry, beside: Beside) => Out) {
    this.look = look;
  }

  /** @param entries of the project's route: segments, or techniques */
  of(entries: readonly Entry[], project: Project): readonly Kept<Out>[] {
    const { before } = this;
    const find = (entry: Entry) => this.find(entry, project);
    const made = carried(before, entries, find);
    const changed = before ? changedIds(before.techniques, project.techniques.list) : [];
    const to = changed.length > 0 ? again(made.to, changed, (at) => find(entries[at]!)) : made.to;
    this.before = { from: entries, to, techniques: project.techniques.list };
    return to;
  }

  private find(entry: Entry, { route, techniques }: Project): Kept<Out> {
    let lookedUp: Set<string> | undefined;
    const technique = (id: string): Defined<Technique> | undefined => {
      (lookedUp ??= new Set()).add(id);
      return techniques.get(id);
    };
    const out = this.look(entry, { uri: route.uri, technique });
    return { lookedUp, out };
  }
}

/** Ids under which there is another technique than before, or one where there was none, or none any more. */
function changedIds(
  before: readonly Defined<Technique>[],
  now: readonly Defined<Technique>[],
): readonly string[] {
  if (before === now) return [];
  const { from, was, is } = differenceOf(before, now);
  return [...new Set([...before.slice(from, was), ...now.slice(from, is)].map(({ id }) => id))];
}

/** The list with what looked up any of the techniques found anew. */
function again<Out>(
  kept: readonly Kept<Out>[],
  ids: readonly string[],
  find: (at: number) => Kept<Out>,
): readonly Kept<Out>[] {
  let list = kept;
  for (const [at, { lookedUp }] of kept.entries())
    if (lookedUp && ids.some((id) => lookedUp.has(id)))
      list = spliced(list, { from: at, was: at + 1, is: at + 1 }, [find(at)]);
  return list;
}
