import { Composer, Parser, type Document, type YAMLParseError, type YAMLWarning } from 'yaml';
import { TreeConverter, nestedTooDeepProblem } from './treeConverter.ts';
import { parseWithNumberLists } from './numberLists.ts';
import type { Problem } from './problem.ts';
import { syntaxMessage } from './syntaxMessages.ts';
import type { Tree } from './tree.ts';
import { unclosedBefore } from './unclosed.ts';

/** A text read as YAML: offsets are relative to the text. */
export interface ParsedYaml {
  readonly tree: Tree | undefined;
  readonly problems: readonly Problem[];
  /** True where anchors or aliases occur: such a text cannot be read apart from its file. */
  readonly usesAnchors: boolean;
}

/** Keys stay as they are written: as keys `1e3` and `null` are names, not a number and not an empty value. */
const parserOptions = {
  uniqueKeys: false,
  stringKeys: true,
  // Tags for dates, sets and bytes are not part of YAML's core: they are reported as unknown.
  resolveKnownTags: false,
  prettyErrors: false,
  logLevel: 'silent',
} as const;

/**
 * Reads one YAML 1.2 document. Never throws: text that cannot be read gives a problem with a range, and the rest is in
 * the tree.
 */
export function parseYaml(text: string): ParsedYaml {
  return parseWithNumberLists(text, parsePlainly) ?? parsePlainly(text);
}

/** The same without a shorter way for long lists of numbers. */
export function parsePlainly(text: string): ParsedYaml {
  const deep = findExcessiveNesting(text);
  if (deep) return { tree: undefined, problems: [deep], usesAnchors: false };
  try {
    const tokens = new Parser().parse(text);
    const [document, second] = [
      ...new Composer(parserOptions).compose(tokens, true, text.length),
    ] as Document.Parsed[];
    if (!document) return { tree: undefined, problems: [], usesAnchors: false };
    const converted: Problem[] = [];
    const converter = new TreeConverter(converted);
    const tree = converter.convert(document.contents);
    const problems = [...syntaxProblems(document, converted, { tree, text })];
    if (second) problems.push(secondDocumentProblem(second.range[0], text));
    return { tree, problems, usesAnchors: converter.usesAnchors };
  } catch (error) {
    // A text made for the purpose can still overflow the parser's stack.
    const problem =
      error instanceof RangeError
        ? nestedTooDeepProblem(0, firstLineEnd(text))
        : parserFailureProblem(text, error);
    return { tree: undefined, problems: [problem], usesAnchors: false };
  }
}

/**
 * The problems that the parser found, and those found when its nodes were converted. Of the parser's errors only the
 * first is reported: the later ones mostly follow from it, and so do repeated keys behind it. They are reported once it
 * is mended, if they remain. Warnings are all reported.
 */
function syntaxProblems(
  { errors, warnings }: Document.Parsed,
  converted: readonly Problem[],
  { tree, text }: { readonly tree: Tree | undefined; readonly text: string },
): Problem[] {
  const [first] = errors.toSorted((a, b) => a.pos[0] - b.pos[0]);
  const warned = warnings.slice(0, maxWarnings).map((warning) => toProblem(warning, text));
  if (!first) return [...converted, ...warned];
  const problem = syntaxProblem(first, tree, text);
  const reported = converted.filter(({ code, start }) => code !== 'duplicate-key' || start < problem.start);
  return [...reported, ...warned, problem];
}

const maxWarnings = 100;

/**
 * Common mistakes that the parser notices only by their consequences. Each pattern begins at the beginning of a line.
 */
const commonSlips: readonly (readonly [RegExp, string])[] = [
  [/^ *\t\s*/, syntaxMessage('TAB_AS_INDENT')],
  [/^ *(?:- +)?[\w-]+:(?=[^\s:/])/, 'A space is missing after the colon.'],
];

function syntaxProblem(error: YAMLParseError, tree: Tree | undefined, text: string): Problem {
  const problem = toProblem(error, text);
  const lineStart = text.lastIndexOf('\n', problem.start - 1) + 1;
  const line = text.slice(lineStart, lineStart + 200);
  for (const [pattern, message] of commonSlips) {
    const slip = pattern.exec(line)?.[0];
    if (slip === undefined) continue;
    const start = lineStart + slip.search(/\S|\t/);
    return { ...problem, start, end: lineStart + slip.length, message };
  }
  const open = unclosedBefore(tree, text, problem.start);
  if (!open) return problem;
  const what = /["']/.test(text[open.start]!) ? 'quote' : 'bracket';
  return { ...problem, ...open, message: `This ${what} is never closed. Close it, or remove it.` };
}

/** The error at the place where the parser noticed it, at least one word long. */
function toProblem({ code, message, pos }: YAMLParseError | YAMLWarning, text: string): Problem {
  const [from] = pos;
  // An error at the end of a line is about the indentation of the next one.
  const next = /[^\r\n]/.test(text[from] ?? ' ') ? undefined : nextContent(text, from);
  const start = next ?? Math.min(from, text.length);
  const word = /^[^\s,[\]{}]*/.exec(text.slice(start, start + 80))![0];
  return {
    start,
    end: Math.max(pos[1], start + word.length),
    code: 'yaml-syntax',
    message: syntaxMessage(next === undefined ? code : 'BAD_INDENT', message),
  };
}

/** The first character from an offset on that is neither blank nor part of a comment. */
function nextContent(text: string, offset: number): number | undefined {
  const found = /(?:[ \t\r\n]|(?<=[ \t\r\n])#.*)*/y;
  found.lastIndex = offset;
  found.exec(text);
  return found.lastIndex < text.length ? found.lastIndex : undefined;
}

function secondDocumentProblem(start: number, text: string): Problem {
  const message = 'A second YAML document begins here and is not read. Keep one document to a file.';
  return { start, end: Math.min(start + 3, text.length), code: 'several-documents', message };
}

function parserFailureProblem(text: string, error: unknown): Problem {
  const message = `This cannot be read as YAML: ${error instanceof Error ? error.message : String(error)}`;
  return { start: 0, end: firstLineEnd(text), code: 'yaml-syntax', message };
}

function firstLineEnd(text: string): number {
  const end = text.indexOf('\n');
  return end < 0 ? text.length : end;
}

/** The deepest nesting that the recursive parser can read: open brackets, or levels of indentation. */
const maxNesting = 500;
const levelMarks = /[[{\]}]|(?:[-?:][ \t]+){100}/g;

/** Finds nesting so deep that the parser could overflow its stack. Brackets inside quotes count as well. */
function findExcessiveNesting(text: string): Problem | undefined {
  let open = 0;
  for (const { 0: mark, index } of text.matchAll(levelMarks)) {
    if (mark === '[' || mark === '{') open++;
    else if (mark === ']' || mark === '}') open = Math.max(0, open - 1);
    if (open > maxNesting || mark.length > 1) return nestedTooDeepProblem(index, index + 1);
  }
  // Fewer characters cannot hold that many levels of indentation.
  return text.length > (maxNesting * maxNesting) / 2 ? findExcessiveIndentation(text) : undefined;
}

/** The same for indentation: lines that are each indented deeper than one before. Blank lines do not count. */
function findExcessiveIndentation(text: string): Problem | undefined {
  const levels: number[] = [];
  for (const { 0: line, index } of text.matchAll(/^ +(?=[^\s])/gm)) {
    while (levels.length > 0 && levels.at(-1)! >= line.length) levels.pop();
    levels.push(line.length);
    if (levels.length > maxNesting) return nestedTooDeepProblem(index + line.length, index + line.length + 1);
  }
  return undefined;
}
