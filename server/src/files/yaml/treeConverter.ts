import { isAlias, isMap, isScalar, isSeq, type Node, type ParsedNode } from 'yaml';
import { shortened } from '../../text/format.ts';
import type { Problem, Span } from './problem.ts';
import { keyIndexFor, type Entry, type Item, type ScalarTree, type Tree } from './tree.ts';

/** Levels of nesting: more than any route needs, and far too few to overflow the stack. */
const maxDepth = 60;
/** Nodes that all aliases together may stand for. */
const maxExpandedNodes = 100_000;

/** Turns the parser's nodes into a tree of our own; what cannot be part of it is reported in `problems`. */
export class TreeConverter {
  /** True once an anchor or an alias was met. */
  usesAnchors = false;
  private tooDeep = false;
  private readonly anchors = new Map<string, { tree: Tree; size: number }>();
  private expanded = 0;
  private readonly problems: Problem[];

  constructor(problems: Problem[]) {
    this.problems = problems;
  }

  /** The tree of a node `depth` levels below the text's root; undefined where it must be left out. */
  convert(node: ParsedNode | Node | null | undefined, depth = 0): Tree | undefined {
    if (!node) return undefined;
    const span = spanOf(node);
    if (depth > maxDepth) {
      if (!this.tooDeep)
        this.problems.push(nestedTooDeepProblem(span.start, Math.min(span.end, span.start + 1)));
      this.tooDeep = true;
      return undefined;
    }
    if (isAlias(node)) return this.alias(node.source, span);
    const before = this.expanded;
    this.expanded++;
    const tree = this.collection(node, span, depth);
    this.remember(node, tree, this.expanded - before);
    return tree;
  }

  private remember(node: Node, tree: Tree | undefined, size: number): void {
    const { anchor } = node as { anchor?: string };
    if (anchor === undefined) return;
    this.usesAnchors = true;
    if (tree) this.anchors.set(anchor, { tree, size });
  }

  private alias(name: string, span: Span): Tree | undefined {
    this.usesAnchors = true;
    const anchored = this.anchors.get(name);
    if (!anchored) {
      this.problems.push({
        ...span,
        code: 'yaml-syntax',
        message: `Nothing above is named &${shortened(name)}. Write the value itself here.`,
      });
      return undefined;
    }
    const fits = this.expanded <= maxExpandedNodes;
    this.expanded += anchored.size;
    if (this.expanded <= maxExpandedNodes) return { type: 'alias', ...span, target: anchored.tree };
    if (fits) {
      this.problems.push({
        ...span,
        code: 'aliases-too-large',
        message: `The aliases of this file stand for more than ${maxExpandedNodes.toLocaleString('en')} values. Write out the values that are meant.`,
      });
    }
    return undefined;
  }

  private collection(node: Node, span: Span, depth: number): Tree | undefined {
    if (isMap(node)) {
      const entries = this.entries(node.items, depth);
      return { type: 'map', ...span, flow: node.flow === true, entries, ...keyIndexFor(entries) };
    }
    if (isSeq(node)) {
      const items: Item[] = node.items.map((item) => ({
        value: this.convert(asNode(item), depth + 1),
        shift: 0,
      }));
      return { type: 'list', ...span, flow: node.flow === true, items };
    }
    if (isScalar(node)) return { type: 'scalar', ...span, value: scalarValue(node.value) };
    return undefined;
  }

  private entries(pairs: readonly { key: unknown; value: unknown }[], depth: number): Entry[] {
    const seen = new Map<string, Entry>();
    const entries: Entry[] = [];
    const repeated: Entry[] = [];
    for (const pair of pairs) {
      const node = asNode(pair.key);
      if (!node) continue;
      const span = spanOf(node);
      if (!isScalar(node)) {
        // The parser has reported this (`stringKeys`). With an alias as a key the text still cannot be read apart from
        // its file.
        if (isAlias(node)) this.usesAnchors = true;
        continue;
      }
      const key: ScalarTree = { type: 'scalar', ...span, value: scalarValue(node.value) };
      this.remember(node, key, 1);
      const value = asNode(pair.value);
      // An empty value has a node of length 0; nothing is written there.
      const empty =
        isScalar(value) &&
        value.value === null &&
        value.range?.[0] === value.range?.[1] &&
        value.anchor === undefined;
      const entry: Entry = { key, value: empty ? undefined : this.convert(value, depth + 1), shift: 0 };
      const first = seen.get(String(key.value));
      if (first) repeated.push(entry);
      else seen.set(String(key.value), entry);
      entries.push(entry);
    }
    // Several repeated keys are one mistake: another entry begins there, without its dash or badly indented.
    if (repeated[0]) {
      const { key } = repeated[0];
      const name = String(key.value);
      this.problems.push(duplicateKeyProblem(name, key, seen.get(name)!.key, repeated.length));
    }
    return entries;
  }
}

/**
 * The problem of keys that occur twice in one map, shown at the first of them.
 *
 * @param count how many occur twice
 */
export function duplicateKeyProblem(name: string, span: Span, first: Span, count = 1): Problem {
  const shown = shortened(name);
  const message =
    count === 1
      ? `\`${shown}\` is written here a second time; only the first is read. Remove or rename one of the two.`
      : `\`${shown}\` and ${count - 1} more of these keys are written here a second time; only the first is read. Remove them, or begin another entry here.`;
  return {
    start: span.start,
    end: span.end,
    code: 'duplicate-key',
    message,
    related: { start: first.start, end: first.end, message: `The first \`${shown}\` is here.` },
  };
}

/** The problem of a node that is nested too deep. */
export function nestedTooDeepProblem(start: number, end: number): Problem {
  return {
    start,
    end,
    code: 'nested-too-deep',
    message: 'This is nested too deep to be part of a route. Remove the extra levels.',
  };
}

function asNode(value: unknown): Node | undefined {
  return value === null || typeof value !== 'object' ? undefined : (value as Node);
}

function spanOf(node: Node | ParsedNode): Span {
  const [start, end] = node.range ?? [0, 0];
  return { start, end };
}

/** A scalar's value; the core schema has no other types. */
function scalarValue(value: unknown): string | number | boolean | null {
  const known = typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean';
  return known ? value : null;
}
