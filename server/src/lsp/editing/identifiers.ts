import type { FileKind } from '../../files/fileKind.ts';
import type { Span } from '../../files/yaml/problem.ts';
import { spotAt, type Path, type Spot, type Tree } from '../../files/yaml/tree.ts';
import type { ProjectFile } from '../../workspace/project.ts';

/** What kind of thing a word in a file names. */
export type EntityKind = 'technique' | 'segment' | 'use' | 'route' | 'spot' | 'item';

type Pattern = readonly [RegExp, EntityKind];

/** Where ids are written as values. `#` stands for an index in a list. */
const valuePatterns: Readonly<Record<FileKind, readonly Pattern[]>> = {
  route: [
    [/^segments\/#\/techniques\/#(\/(use|backup))?$/, 'technique'],
    [/^segments\/#\/id$/, 'segment'],
    [/^segments\/#\/techniques\/#\/id$/, 'use'],
    [/^segments\/#\/techniques\/#\/spot$/, 'spot'],
    [/^segments\/#\/techniques\/#\/(take|with)$/, 'item'],
    [/^techniques\/[^/]+\/needs\/#$/, 'technique'],
    [/^extends$/, 'route'],
  ],
  practice: [
    [/^sessions\/#\/blocks\/#\/technique$/, 'technique'],
    [/^sessions\/#\/blocks\/#\/segment$/, 'segment'],
    [/^route$/, 'route'],
  ],
  runs: [
    [/^runs\/#\/ended\/at$/, 'segment'],
    [/^runs\/#\/ended\/by$/, 'technique'],
    [/^route$/, 'route'],
  ],
  week: [
    [/^(pin|leave_out)\/#$/, 'technique'],
    [/^route$/, 'route'],
  ],
  pool: [[/^route$/, 'route']],
};

/** Where ids are written as keys. */
const keyPatterns: Readonly<Record<FileKind, readonly Pattern[]>> = {
  route: [[/^techniques\/[^/]+$/, 'technique']],
  practice: [[/^sessions\/#\/blocks\/#\/tried\/[^/]+$/, 'technique']],
  runs: [
    [/^runs\/#\/(tried|first)\/[^/]+$/, 'technique'],
    [/^runs\/#\/times\/[^/]+$/, 'segment'],
    [/^runs\/#\/ended\/(?!(at|why|by)$)[^/]+$/, 'segment'],
  ],
  week: [
    [/^states\/[^/]+$/, 'technique'],
    [/^times\/[^/]+$/, 'segment'],
  ],
  pool: [[/^techniques\/[^/]+$/, 'technique']],
};

/** The longest path of an id, where a kind of file has much more below: a pool has thousands of numbers there. */
const deepest: Readonly<Partial<Record<FileKind, number>>> = { pool: 2 };

/** The kind of thing that a word at this path would name. */
export function entityKindAt(kind: FileKind, path: Path, part: 'key' | 'value'): EntityKind | undefined {
  const shape = path.map((step) => (typeof step === 'number' ? '#' : step)).join('/');
  return (part === 'key' ? keyPatterns : valuePatterns)[kind].find(([pattern]) => pattern.test(shape))?.[1];
}

/** A word that names something of the route, with its position. */
export interface Identifier {
  readonly entityKind: EntityKind;
  /** As written, without the use that may follow an `@`. */
  readonly id: string;
  readonly use: string | undefined;
  readonly span: Span;
  readonly path: Path;
  /** Whether this word is the definition of the thing. */
  readonly defines: boolean;
}

function identifierOf(kind: FileKind, { path, part, tree, span }: Spot): Identifier | undefined {
  const entityKind = entityKindAt(kind, path, part);
  if (!entityKind) return undefined;
  const written = part === 'key' ? path.at(-1) : tree?.type === 'scalar' ? tree.value : undefined;
  if (typeof written !== 'string' || written === '') return undefined;
  const [id = written, use] = entityKind === 'technique' ? written.split('@') : [written];
  const defines =
    kind === 'route' && ((entityKind === 'technique' && part === 'key') || path.at(-1) === 'id');
  return { entityKind, id, use, span, path, defines };
}

/** The identifier at an offset of a file. */
export function identifierAt(file: ProjectFile, offset: number): Identifier | undefined {
  const spot = spotAt(file.reading.tree, offset);
  return spot && identifierOf(file.kind, spot);
}

/** Every word of a file that names something, in the order of the text. */
export function identifiers(file: ProjectFile): Generator<Identifier> {
  return identifiersIn(file.kind, file.reading.tree, []);
}

/** The same for a part of a file's tree, in offsets of that part. */
export function* identifiersIn(kind: FileKind, tree: Tree, path: Path): Generator<Identifier> {
  for (const spot of keysAndValues(tree, path, 0, deepest[kind])) {
    const identifier = identifierOf(kind, spot);
    if (identifier) yield identifier;
  }
}

/**
 * Every key and every single value of a tree, in the order of the text.
 *
 * @param most steps in the path of a key, at most; what lies deeper is left out
 */
export function* keysAndValues(tree: Tree, path: Path, shift: number, most = Infinity): Generator<Spot> {
  if (path.length >= most) return;
  const moved = (span: Span, by: number): Span => ({ start: span.start + by, end: span.end + by });
  if (tree.type === 'map') {
    for (const { key, value, shift: inner } of tree.entries) {
      const step = [...path, String(key.value)];
      yield { path: step, part: 'key', tree: value, span: moved(key, shift + inner) };
      if (value) yield* keysAndValues(value, step, shift + inner, most);
    }
  } else if (tree.type === 'list') {
    for (const [index, { value, shift: inner }] of tree.items.entries())
      if (value) yield* keysAndValues(value, [...path, index], shift + inner, most);
  } else {
    yield { path, part: 'value', tree, span: moved(tree, shift) };
  }
}
