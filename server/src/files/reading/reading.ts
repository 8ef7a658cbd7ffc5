import { checkFile, sectionValue, type CheckedSections } from '../schema/checkFile.ts';
import { composeTree } from '../yaml/composeTree.ts';
import { LineEnds } from '../../text/lines.ts';
import { sectionsByKind, type FileKind } from '../fileKind.ts';
import { blankMergeConflicts } from '../yaml/mergeConflicts.ts';
import { parseYaml } from '../yaml/parseYaml.ts';
import { readChunks } from '../yaml/chunkedText.ts';
import { type ChunkedText } from '../yaml/chunk.ts';
import type { Problem, Span } from '../yaml/problem.ts';
import type { MapTree } from '../yaml/tree.ts';
import { explainNoBreakSpaces } from './noBreakSpace.ts';
import { type Unread, unreadProblem, maxFileBytes } from './unread.ts';

/** A file as read: its tree for places, its value for content, and what is wrong with it. */
export interface Reading {
  readonly kind: FileKind;
  readonly text: string;
  readonly tree: MapTree;
  /** Fits the schema of the file's kind, except that required keys of the file itself may be missing. */
  readonly value: Value;
  /** The same without the sections. */
  readonly outer: Value;
  /** The sections' entries, each checked on its own. */
  readonly sections: CheckedSections;
  readonly problems: readonly Problem[];
  /** Why the file was not read; undefined where it was. Nothing is in it then. */
  readonly unread: Unread | undefined;
  /** The parsed pieces of the text, for the next reading of the same file; undefined where it was read as a whole. */
  readonly chunkedText: ChunkedText | undefined;
  /** True where it is certain that no key of the file or of a section occurs twice. */
  readonly distinct: boolean;
}

type Value = Readonly<Record<string, unknown>>;

const emptyMap: MapTree = { type: 'map', start: 0, end: 0, flow: false, entries: [] };

/**
 * Reads a file's text. Never throws; broken text gives problems and as much of the value as can be trusted.
 * With the `previous` reading of the same file, only the pieces that changed are read again.
 */
export function readSource(kind: FileKind, text: string, previous?: Reading): Reading {
  if (previous?.kind === kind && previous.text === text) return previous;
  if (text.length > maxFileBytes)
    return unreadReading(kind, { why: 'too-large', detail: String(text.length) }, text);
  const { text: clean, problems } = blankMergeConflicts(text);
  const chunkedText = readChunks(clean, sectionsByKind[kind], previous?.chunkedText);
  const strangeBefore = previous?.problems.some(({ code }) => code === 'control-character');
  problems.push(
    ...characterProblems(text, clean === text && !strangeBefore ? chunkedText?.changedSpan : undefined),
  );
  const known = chunkedText?.sameKeys ? previous : undefined;
  const apart = chunkedText?.anchored === 0 ? composeTree(chunkedText, known, problems) : undefined;
  const tree = apart?.tree ?? readUnsplit(clean, problems);
  const broken = apart ? brokenChunkSpans(chunkedText!) : brokenTailSpans(problems, clean);
  const distinct = apart?.distinct ?? false;
  const before = previous?.sections;
  const checked = checkFile({ kind, text: clean, tree, broken, distinct, problems, previous: before });
  const located = onFirstLines(explainNoBreakSpaces(problems, text), text);
  return withValue({
    kind,
    text,
    tree,
    ...checked,
    problems: located,
    unread: undefined,
    chunkedText,
    distinct,
  });
}

/** Puts the value together when it is first asked for: an edit seldom asks. */
function withValue(reading: Omit<Reading, 'value'>): Reading {
  let value: Value | undefined;
  return {
    ...reading,
    get value() {
      return (value ??= valueOf(reading));
    },
  };
}

function valueOf({ kind, outer, sections: checked }: Omit<Reading, 'value'>): Value {
  const value: Record<string, unknown> = Object.assign(Object.create(null) as object, outer);
  for (const section of sectionsByKind[kind]) {
    const entries = checked.get(section.key);
    if (entries) value[section.key] = sectionValue(section, entries);
  }
  return value;
}

/** Problems of text that could not be read. Other problems near them may only be consequences. */
const unreadable: ReadonlySet<string> = new Set(['yaml-syntax', 'nested-too-deep', 'aliases-too-large']);

/** Pieces whose text is broken. */
function brokenChunkSpans({ text, chunks, starts, troubled }: ChunkedText): Span[] {
  if (troubled === 0) return [];
  return chunks.flatMap(({ stray, parsed }, at) =>
    stray || parsed.problems.some(({ code }) => unreadable.has(code))
      ? [{ start: starts[at]!, end: starts[at + 1] ?? text.length }]
      : [],
  );
}

/** A broken text that was read as a whole cannot be trusted from the line of the first problem on. */
function brokenTailSpans(problems: readonly Problem[], text: string): Span[] {
  const starts = problems.filter(({ code }) => unreadable.has(code)).map(({ start }) => start);
  if (starts.length === 0) return [];
  const first = Math.min(...starts);
  return [{ start: text.lastIndexOf('\n', first - 1) + 1, end: text.length + 1 }];
}

/**
 * The reading of a file that was not read.
 *
 * @param text where an editor has the file open nevertheless
 */
export function unreadReading(kind: FileKind, unread: Unread, text = ''): Reading {
  const problems = onFirstLines([{ ...unreadProblem(unread), end: text.length }], text);
  return withValue({
    kind,
    text,
    tree: emptyMap,
    outer: {},
    sections: new Map(),
    problems,
    unread,
    chunkedText: undefined,
    distinct: false,
  });
}

/** Reads a text as a whole. */
function readUnsplit(text: string, problems: Problem[]): MapTree {
  const { tree, problems: found } = parseYaml(text);
  problems.push(...found);
  if (tree?.type === 'map') return tree;
  if (found.length > 0) return emptyMap;
  if (tree) {
    const message = 'A file begins with keys such as `route:`, not with a list or a single value.';
    problems.push({ start: tree.start, end: tree.end, code: 'wrong-type', message });
  } else {
    const message = 'Nothing is written here yet. Begin with a key such as `route:`, or delete the file.';
    problems.push({ start: 0, end: text.length, code: 'empty-file', message });
  }
  return emptyMap;
}

/**
 * The problems in the order of the text. A problem of a whole block is shown on the block's first line; its related
 * place likewise.
 */
function onFirstLines(problems: readonly Problem[], text: string): Problem[] {
  const [lines, relatedLines] = [new LineEnds(text), new LineEnds(text)];
  const onFirstLine = ({ start, end }: Span, ends: LineEnds): Span => {
    const from = Math.min(start, text.length);
    return { start: from, end: Math.max(from, Math.min(end, ends.after(from))) };
  };
  const located = problems
    .toSorted((a, b) => a.start - b.start)
    .map((problem) => ({
      ...problem,
      ...onFirstLine(problem, lines),
      ...(problem.related && {
        related: { ...problem.related, ...onFirstLine(problem.related, relatedLines) },
      }),
    }));
  return located.sort((a, b) => a.start - b.start || a.end - b.end);
}

/** A lone carriage return, a byte-order mark past the beginning, or a control character. */
const strangeCharacter = /\r(?!\n)|(?<!^)\uFEFF|[^\P{Cc}\t\n\r\x85]/u;

const strangeMessages: Readonly<Record<string, string>> = {
  '\r': 'A carriage return stands here without a line feed. Save the file with line feeds as line ends.',
  '\uFEFF': 'A byte-order mark stands here, inside the text. It cannot be seen; delete it.',
};

/**
 * The problem of the first character that does not belong in a text file. Further ones are not reported.
 *
 * @param changed the only stretch in which there can be such a character; left out: the whole text
 */
function characterProblems(text: string, changed?: Span): Problem[] {
  // One character more at both ends: some characters are wrong only next to others.
  if (changed && !strangeCharacter.test(text.slice(Math.max(0, changed.start - 1), changed.end + 1)))
    return [];
  const found = strangeCharacter.exec(text);
  if (!found) return [];
  const [character] = found;
  const number = character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
  const message =
    strangeMessages[character] ??
    `A control character (U+${number}) stands here. Delete it; if there are many, this may be no text file.`;
  return [{ start: found.index, end: found.index + 1, code: 'control-character', message }];
}
