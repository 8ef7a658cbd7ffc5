import type { Span } from '../../files/yaml/problem.ts';
import { readSource } from '../../files/reading/reading.ts';
import { locate, spotAt, type MapTree, type Path, type Tree } from '../../files/yaml/tree.ts';
import type { ProjectFile } from '../../workspace/project.ts';

/** Replaces the word being typed. It is no id that a person would write. */
const placeholderId = 'zz-being-typed-zz';

/** A place where something could be written. */
export interface InsertionPoint {
  /** The path of the map for a key, of the value itself otherwise. */
  readonly path: Path;
  readonly part: 'key' | 'value';
  /** The tree of the file with the word written at this place. */
  readonly tree: MapTree;
  /** Whether a colon has to follow a key. */
  readonly needsColon: boolean;
  readonly inFlow: boolean;
  /** Names that exist at this place already: keys of the map, or items of the list. */
  readonly existingNames: ReadonlySet<string>;
}

/** The text around the cursor, and what could be written there. */
export interface CursorContext {
  /** The word around the cursor, which a completion replaces. */
  readonly word: Span;
  readonly insertionPoints: readonly InsertionPoint[];
}

const wordCharacter = /[\w@.%-]/;

/**
 * Finds what could be written at an offset, also in half-typed text: a placeholder replaces the word, once as a key and
 * once as a value, and the file is read with it.
 */
export function cursorContextAt(file: ProjectFile, offset: number): CursorContext {
  const { text } = file.reading;
  let start = offset;
  let end = offset;
  while (start > 0 && inWord(text, start - 1)) start--;
  while (end < text.length && inWord(text, end)) end++;
  const word = { start, end };
  const before = text.slice(text.lastIndexOf('\n', start - 1) + 1, start);
  const newline = text.indexOf('\n', end);
  const after = text.slice(end, newline < 0 ? text.length : newline);

  const closers = /^\s*(?:#.*)?$/.test(after) ? missingClosers(before) : '';
  const hasColon = /^["']?\s*:/.test(after);
  const mayBeKey = /^\s*(?:- +)*["']?$/.test(before) || /[{,]\s*["']?$/.test(before);
  const insertionPoints: InsertionPoint[] = [];
  if (mayBeKey) {
    const insertionPoint = insertionPointWith(
      file,
      word,
      (hasColon ? placeholderId : `${placeholderId}: `) + closers,
      !hasColon,
    );
    if (insertionPoint?.part === 'key') insertionPoints.push(insertionPoint);
  }
  if (!hasColon) {
    const insertionPoint = insertionPointWith(file, word, placeholderId + closers, true);
    if (insertionPoint?.part === 'value') insertionPoints.push(insertionPoint);
  }
  return { word, insertionPoints };
}

/** Whether a character is part of a word: one of `wordCharacter`, or the colon inside a time or a time of day. */
function inWord(text: string, at: number): boolean {
  if (wordCharacter.test(text[at]!)) return true;
  return text[at] === ':' && /\d/.test(text[at - 1] ?? '') && text[at + 1] !== ' ';
}

/** The closing brackets for those that are opened on a line and not closed. */
function missingClosers(before: string): string {
  const open: string[] = [];
  let quote = '';
  for (const char of before) {
    if (quote !== '') quote = char === quote ? '' : quote;
    else if (char === '"' || char === "'") quote = char;
    else if (char === '{') open.push('}');
    else if (char === '[') open.push(']');
    else if (char === open.at(-1)) open.pop();
  }
  return quote + open.reverse().join('');
}

function insertionPointWith(
  file: ProjectFile,
  { start, end }: Span,
  written: string,
  colon: boolean,
): InsertionPoint | undefined {
  const { text } = file.reading;
  const { tree } = readSource(file.kind, text.slice(0, start) + written + text.slice(end), file.reading);
  const spot = spotAt(tree, start + 1);
  if (!spot) return undefined;
  const parent = spot.path.slice(0, -1);
  const owner = locate(tree, parent).tree;
  if (spot.part === 'key') {
    if (spot.path.at(-1) !== placeholderId) return undefined;
    return {
      path: parent,
      part: 'key',
      tree,
      needsColon: colon,
      inFlow: isFlow(owner),
      existingNames: namesIn(owner),
    };
  }
  if (spot.tree?.type !== 'scalar' || spot.tree.value !== placeholderId) return undefined;
  const taken = owner?.type === 'list' ? namesIn(owner) : new Set<string>();
  return {
    path: spot.path,
    part: 'value',
    tree,
    needsColon: colon,
    inFlow: isFlow(owner),
    existingNames: taken,
  };
}

function isFlow(tree: Tree | undefined): boolean {
  return (tree?.type === 'map' || tree?.type === 'list') && tree.flow;
}

function namesIn(tree: Tree | undefined): Set<string> {
  const names = new Set<string>();
  if (tree?.type === 'map') for (const { key } of tree.entries) names.add(String(key.value));
  if (tree?.type === 'list')
    for (const { value } of tree.items) if (value?.type === 'scalar') names.add(String(value.value));
  names.delete(placeholderId);
  return names;
}
