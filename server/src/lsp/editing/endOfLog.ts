import { InsertTextMode, type CompletionItem, type TextEdit } from 'vscode-languageserver';
import { readSource, type Reading } from '../../files/reading/reading.ts';
import type { Span } from '../../files/yaml/problem.ts';
import { locate, type ListTree, type Path } from '../../files/yaml/tree.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import type { PositionConverter } from '../documents/positionConverter.ts';
import { snippetItem, withoutPlaceholders, type SnippetNeeds } from './snippets.ts';

export interface EndOfLogNeeds extends SnippetNeeds {
  readonly positions: PositionConverter;
}

/** A completion that brings its own edit: it replaces the whole line before the cursor. */
export type EntryCandidate = CompletionItem & { readonly textEdit: TextEdit };

/** What can be begun at the end of a log, and the list that it becomes an item of. */
const begun = {
  practice: [
    ['new session', 'sessions'],
    ['new block', 'blocks'],
  ],
  runs: [
    ['new run', 'runs'],
    ['new evening', 'runs'],
  ],
} as const;

/**
 * Whole entries to begin on an empty line below the last entry of a log, with the dash and the indentation of the list
 * that they continue. Each is offered only where the log with it reads well and has one item more.
 *
 * @param offset that of the cursor
 */
export function entriesAtEndOfLog(needs: EndOfLogNeeds, file: ProjectFile, offset: number): EntryCandidate[] {
  const { kind, reading } = file;
  if (!needs.client.snippets || (kind !== 'practice' && kind !== 'runs')) return [];
  const { text } = reading;
  const line = { start: text.lastIndexOf('\n', offset - 1) + 1, end: offset };
  const typed = text.slice(line.start, offset).trim();
  if (!/^[a-z]*(?: [a-z]*)?$/.test(typed) || text.slice(offset).trim() !== '') return [];
  const empty = readSource(kind, text.slice(0, line.start) + text.slice(offset), reading);
  return begun[kind].flatMap(([label, list]) => {
    if (!label.startsWith(typed) && !label.includes(` ${typed}`)) return [];
    const where = list === 'blocks' ? lastBlocks(empty) : [list];
    return where ? (entryIn(needs, file, { line, empty, where }, label) ?? []) : [];
  });
}

/** The path of the blocks of the last session. */
function lastBlocks({ tree }: Reading): Path | undefined {
  const sessions = locate(tree, ['sessions']).tree;
  if (sessions?.type !== 'list' || sessions.items.length === 0) return undefined;
  return ['sessions', sessions.items.length - 1, 'blocks'];
}

/** The line that is written on, the reading of the log with that line empty, and the list that gets a new item. */
interface Place {
  readonly line: Span;
  readonly empty: Reading;
  readonly where: Path;
}

function entryIn(
  needs: EndOfLogNeeds,
  file: ProjectFile,
  { line, empty, where }: Place,
  label: string,
): EntryCandidate | undefined {
  const { uri, reading } = file;
  const place = locate(empty.tree, where);
  if (!place.exact || (place.tree && place.tree.type !== 'list' && !isNull(place.tree))) return undefined;
  const list = place.tree?.type === 'list' ? place.tree : undefined;
  const indentation = indentationOf(empty, where, list);
  const { newText, ...item } = snippetItem(needs, file, label);
  const written = `- ${newText}`
    .split('\n')
    .map((row) => indentation + row)
    .join('\n');
  // A list without an item is written as two brackets, which go away.
  const brackets = list?.flow && list.items.length === 0 ? place.value : undefined;
  if (brackets && brackets.end > line.start) return undefined;
  const before = brackets
    ? reading.text.slice(0, brackets.start) + reading.text.slice(brackets.end, line.start)
    : reading.text.slice(0, line.start);
  const after = readSource(empty.kind, before + withoutPlaceholders(written), empty);
  const items = locate(after.tree, where).tree;
  const isAdded = items?.type === 'list' && items.items.length === (list?.items.length ?? 0) + 1;
  if (!isAdded || after.problems.length > empty.problems.length) return undefined;
  return {
    ...item,
    insertTextMode: InsertTextMode.asIs,
    textEdit: { range: needs.positions.range(uri, line), newText: written },
    ...(brackets && {
      additionalTextEdits: [{ range: needs.positions.range(uri, brackets), newText: '' }],
    }),
  };
}

function isNull(tree: { readonly type: string; readonly value?: unknown }): boolean {
  return tree.type === 'scalar' && tree.value === null;
}

/** The spaces before the dashes of a list; of one without items, two more than before its key. */
function indentationOf({ tree, text }: Reading, where: Path, list: ListTree | undefined): string {
  const at = list?.items.length ? [...where, 0] : where;
  const { value, key } = locate(tree, at);
  const start = list?.items.length ? value.start : (key ?? value).start;
  const before = text.slice(text.lastIndexOf('\n', start - 1) + 1, start);
  const spaces = /^ */.exec(before)![0];
  return list?.items.length ? spaces : ' '.repeat(before.length + 2);
}
