import type { Span } from './problem.ts';
import type { Tree } from './tree.ts';

const closers: Readonly<Record<string, string>> = { '[': ']', '{': '}', '"': '"', "'": "'" };

/**
 * The innermost quote or bracket that begins before `offset` and is never closed, as the parser read it.
 * The parser notices only where the text can no longer go on, which may be lines below.
 */
export function unclosedBefore(tree: Tree | undefined, text: string, offset: number): Span | undefined {
  if (!tree || tree.start > offset) return undefined;
  let found =
    isUnclosed(tree, text) || runsOnTo(offset, tree, text)
      ? { start: tree.start, end: tree.start + 1 }
      : undefined;
  for (const child of childrenOf(tree)) found = unclosedBefore(child, text, offset) ?? found;
  return found;
}

function isUnclosed(tree: Tree, text: string): boolean {
  const closer = closers[text[tree.start] ?? ''];
  const delimited = tree.type === 'scalar' || ((tree.type === 'map' || tree.type === 'list') && tree.flow);
  if (!delimited || closer === undefined) return false;
  return tree.end - tree.start < 2 || text[tree.end - 1] !== closer;
}

/**
 * Whether a quoted text spans several lines, and `offset` is on the line where it ends: its closing quote is then most
 * likely the opening one of another text.
 */
function runsOnTo(offset: number, tree: Tree, text: string): boolean {
  if (tree.type !== 'scalar' || !/["']/.test(text[tree.start] ?? '') || tree.end > offset) return false;
  return text.slice(tree.start, tree.end).includes('\n') && !text.slice(tree.end, offset).includes('\n');
}

function childrenOf(tree: Tree): (Tree | undefined)[] {
  if (tree.type === 'map') return tree.entries.flatMap(({ key, value }) => [key, value]);
  return tree.type === 'list' ? tree.items.map(({ value }) => value) : [];
}
