import type { Span } from '../../files/yaml/problem.ts';
import type { Path, Tree } from '../../files/yaml/tree.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import { identifiersIn } from './identifiers.ts';

/** Ids as written, each with the span of its last mention, in offsets of the entry. */
type Mentions = ReadonlyMap<string, Span>;

/**
 * Finds where a log mentions a technique last. Each entry is searched once: an entry that did not change keeps its
 * tree, and a log of several years has thousands of entries.
 */
export class LastMentions {
  private readonly kept = new WeakMap<Tree, Mentions>();

  /** The last place in a file that names a technique by an id which `isMeant` accepts. */
  find(file: ProjectFile, isMeant: (id: string) => boolean): Span | undefined {
    for (const { key, value, shift } of file.reading.tree.entries.toReversed()) {
      if (!value) continue;
      const path = [String(key.value)];
      const parts =
        value.type === 'list'
          ? value.items.map((item, index) => ({ ...item, shift: shift + item.shift, path: [...path, index] }))
          : [{ value, shift, path }];
      for (const part of parts.reverse()) {
        const found = part.value && this.lastIn(file, part.value, part.path, isMeant);
        if (found) return { start: found.start + part.shift, end: found.end + part.shift };
      }
    }
    return undefined;
  }

  private lastIn(
    { kind }: ProjectFile,
    tree: Tree,
    path: Path,
    isMeant: (id: string) => boolean,
  ): Span | undefined {
    let mentions = this.kept.get(tree);
    if (!mentions) {
      const all = [...identifiersIn(kind, tree, path)].filter(
        ({ entityKind: thing }) => thing === 'technique',
      );
      mentions = new Map(all.map(({ id, span }) => [id, span]));
      this.kept.set(tree, mentions);
    }
    const spans = [...mentions].filter(([id]) => isMeant(id)).map(([, span]) => span);
    return spans.reduce<Span | undefined>(
      (last, span) => (last && last.start > span.start ? last : span),
      undefined,
    );
  }
}
