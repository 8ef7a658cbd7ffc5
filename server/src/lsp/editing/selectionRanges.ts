import type { Position, SelectionRange, SelectionRangeParams } from 'vscode-languageserver';
import type { Span } from '../../files/yaml/problem.ts';
import type { Entry, Item, Tree } from '../../files/yaml/tree.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

export type SelectionRangeNeeds = Pick<FileServices, 'workspace' | 'positions'>;

/** The steps by which a selection grows: the word, its entry, the entries around it, the file. */
export function selectionRangeProvider(
  needs: SelectionRangeNeeds,
): (params: SelectionRangeParams) => SelectionRange[] {
  return ({ textDocument, positions }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    return positions.map((position) => (file ? rangesAt(needs, file, position) : emptyRangeAt(position)));
  };
}

/** The protocol requires an answer for each position, also where nothing is known. */
function emptyRangeAt(position: Position): SelectionRange {
  return { range: { start: position, end: position } };
}

function rangesAt(needs: SelectionRangeNeeds, file: ProjectFile, position: Position): SelectionRange {
  const { text, tree } = file.reading;
  const offset = needs.positions.offset(file.uri, position);
  let range: SelectionRange | undefined;
  let last: Span | undefined;
  for (const span of [{ start: 0, end: text.length }, ...spansAt(tree, offset)]) {
    const inside = !last || (span.start >= last.start && span.end <= last.end);
    const same = last && span.start === last.start && span.end === last.end;
    if (!inside || same) continue;
    range = { range: needs.positions.range(file.uri, span), ...(range && { parent: range }) };
    last = span;
  }
  return range ?? emptyRangeAt(position);
}

/** The nodes around an offset, the outermost first; a quoted text is one step with its quotes and one without. */
function* spansAt(root: Tree, offset: number): Generator<Span> {
  let tree: Tree | undefined = root;
  let shift = 0;
  const holds = ({ start, end }: Span) => start <= offset && offset <= end;
  while (tree) {
    const span: Span = { start: tree.start + shift, end: tree.end + shift };
    if (holds(span)) yield span;
    if (tree.type === 'map') {
      const by: number = shift;
      const entry: Entry | undefined = tree.entries.find(({ key, value, shift: inner }) =>
        holds({ start: key.start + by + inner, end: (value ?? key).end + by + inner }),
      );
      if (!entry) return;
      shift += entry.shift;
      const key = { start: entry.key.start + shift, end: entry.key.end + shift };
      yield { start: key.start, end: (entry.value ?? entry.key).end + shift };
      if (holds(key)) {
        yield key;
        return;
      }
      tree = entry.value;
    } else if (tree.type === 'list') {
      const by: number = shift;
      const item: Item | undefined = tree.items.find(
        ({ value, shift: inner }) =>
          value && holds({ start: value.start + by + inner, end: value.end + by + inner }),
      );
      if (!item) return;
      shift += item.shift;
      tree = item.value;
    } else {
      return;
    }
  }
}
