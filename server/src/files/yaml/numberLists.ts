// Written by hand: the parser takes several microseconds for each number, and a pool of 200 techniques has 40,000 of them,
// nearly all in such lists. A list is read here, and the parser sees one word in its place.
import type { ListTree, MapTree, ScalarTree, Tree } from './tree.ts';

/** A list in brackets of ten whole numbers or more, written plainly as the value of a key. */
const numberList = /(?<=: )\[-?\d{1,9}(?:, -?\d{1,9}){9,5000}\]/g;

/** What of a parser's result matters here. */
interface Parsed {
  readonly tree: Tree | undefined;
  readonly problems: readonly unknown[];
  readonly usesAnchors: boolean;
}

/**
 * Reads a text with long lists of numbers in a fraction of the time. The result is the very one of `parse`.
 *
 * @param parse reads a text that has a word in place of each list
 * @returns undefined where the text has no such list, or where it is not certain that each is a value, as in a comment or
 * in quotes: it is to be read as it stands then
 */
export function parseWithNumberLists<Result extends Parsed>(
  text: string,
  parse: (text: string) => Result,
): Result | undefined {
  const lists = new Map<number, string>();
  const shortened = text.replace(numberList, (list, offset: number) => {
    lists.set(offset, list);
    return wordFor(list);
  });
  if (lists.size === 0) return undefined;
  const parsed = parse(shortened);
  const { tree, problems, usesAnchors } = parsed;
  if (!tree || problems.length > 0 || usesAnchors) return undefined;
  const restored = new Restorer(lists);
  const whole = restored.tree(tree);
  return restored.count === lists.size ? { ...parsed, tree: whole } : undefined;
}

/** A word as long as the list, so that all offsets stay the same. */
function wordFor({ length }: string): string {
  return 'n'.repeat(length);
}

/** Puts the lists back in the place of their words. */
class Restorer {
  /** How many lists were put back. */
  count = 0;
  private readonly lists: ReadonlyMap<number, string>;

  constructor(lists: ReadonlyMap<number, string>) {
    this.lists = lists;
  }

  tree(tree: Tree): Tree {
    switch (tree.type) {
      case 'scalar':
        return this.scalar(tree);
      case 'map':
        return this.map(tree);
      case 'list':
        return { ...tree, items: tree.items.map((item) => this.within(item)) };
      case 'alias':
        return tree;
    }
  }

  private map(tree: MapTree): MapTree {
    return { ...tree, entries: tree.entries.map((entry) => this.within(entry)) };
  }

  private within<Node extends { readonly value: Tree | undefined }>(node: Node): Node {
    return node.value ? { ...node, value: this.tree(node.value) } : node;
  }

  private scalar(scalar: ScalarTree): Tree {
    const list = this.lists.get(scalar.start);
    // Where more belongs to the scalar, as in quotes or over two lines, it is no list.
    if (list === undefined || scalar.end !== scalar.start + list.length || scalar.value !== wordFor(list))
      return scalar;
    this.count++;
    return listTree(list, scalar.start);
  }
}

function listTree(list: string, start: number): ListTree {
  let at = start + 1;
  const items = list
    .slice(1, -1)
    .split(', ')
    .map((written) => {
      const value: ScalarTree = {
        type: 'scalar',
        start: at,
        end: at + written.length,
        value: Number(written),
      };
      at = value.end + 2;
      return { value, shift: 0 };
    });
  return { type: 'list', start, end: start + list.length, flow: true, items };
}
