import { FoldingRangeKind, type FoldingRange, type FoldingRangeParams } from 'vscode-languageserver';
import type { Tree } from '../../files/yaml/tree.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

export type FoldingRangeNeeds = Pick<FileServices, 'workspace' | 'positions'>;

/** What an editor can fold: every entry that continues below its first line, and comments of several lines. */
export function foldingRangeProvider(
  needs: FoldingRangeNeeds,
): (params: FoldingRangeParams) => FoldingRange[] {
  return ({ textDocument }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file) return [];
    const { text, tree } = file.reading;
    const found = new Map<number, FoldingRange>();
    const lineOf = (offset: number) =>
      needs.positions.range(file.uri, { start: offset, end: offset }).start.line;
    const add = (start: number, end: number, kind?: FoldingRangeKind): void => {
      const startLine = lineOf(start);
      const endLine = lineOf(start + text.slice(start, end).trimEnd().length);
      // Where several entries begin on one line, the first contains the others.
      if (endLine > startLine && !found.has(startLine))
        found.set(startLine, { startLine, endLine, ...(kind && { kind }) });
    };
    for (const { start, end } of entrySpans(tree, 0)) add(start, end);
    for (const { index, 0: lines } of text.matchAll(/^[ \t]*#.*(?:\r?\n[ \t]*#.*)+/gm))
      add(index, index + lines.length, FoldingRangeKind.Comment);
    return [...found.values()].sort((a, b) => a.startLine - b.startLine);
  };
}

function* entrySpans(tree: Tree | undefined, shift: number): Generator<{ start: number; end: number }> {
  if (tree?.type === 'map') {
    for (const { key, value, shift: inner } of tree.entries) {
      const by = shift + inner;
      if (value) yield { start: key.start + by, end: endOf(value) + by };
      yield* entrySpans(value, by);
    }
  } else if (tree?.type === 'list') {
    for (const { value, shift: inner } of tree.items) {
      const by = shift + inner;
      if (value) yield { start: value.start + by, end: endOf(value) + by };
      yield* entrySpans(value, by);
    }
  }
}

/** The end of a value, without the blank lines and comments after it, which belong to the next entry. */
function endOf(tree: Tree): number {
  if (tree.type === 'map' && !tree.flow) {
    const last = tree.entries.at(-1);
    return last ? last.shift + (last.value ? endOf(last.value) : last.key.end) : tree.end;
  }
  if (tree.type === 'list' && !tree.flow) {
    const last = tree.items.findLast(({ value }) => value);
    return last?.value ? last.shift + endOf(last.value) : tree.end;
  }
  return tree.end;
}
