import type { Problem } from '../yaml/problem.ts';

/** Codes of problems that a no-break space may cause. */
const caused: ReadonlySet<string> = new Set(['yaml-syntax', 'unknown-key']);

/** Where YAML wants an ordinary space: before a key, behind a dash, behind the colon of a key. */
const places: readonly RegExp[] = [
  /^ {0,200}(?=\u00A0)/,
  /^ {0,200}- {0,9}(?=\u00A0)/,
  /^ {0,200}(?:- {1,9})?["']?[\w-]{1,200}["']?: {0,9}(?=\u00A0)/,
  /[{,] {0,9}["']?[\w-]{1,200}["']?: {0,9}(?=\u00A0)/,
];

const message =
  'A no-break space (U+00A0) stands here. It looks like a space, but YAML does not take it for one. Put an ordinary space in its place.';

/**
 * The problems, with the true cause told of those that come from a no-break space: it cannot be seen, and text that is
 * pasted from a page or a document often has it.
 */
export function explainNoBreakSpaces(problems: readonly Problem[], text: string): readonly Problem[] {
  if (!problems.some(({ code }) => caused.has(code)) || !text.includes('\u00A0')) return problems;
  const told = new Set<number>();
  return problems.flatMap((problem): Problem[] => {
    const at = caused.has(problem.code) ? noBreakSpaceIn(text, problem.start) : undefined;
    if (at === undefined) return [problem];
    if (told.has(at)) return [];
    told.add(at);
    return [{ start: at, end: at + 1, code: 'yaml-syntax', message }];
  });
}

/** The offset of such a space on the line of a place. */
function noBreakSpaceIn(text: string, offset: number): number | undefined {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const newline = text.indexOf('\n', start);
  const line = text.slice(start, newline < 0 ? text.length : newline).slice(0, 2000);
  for (const place of places) {
    const found = place.exec(line);
    if (found) return start + found.index + found[0].length;
  }
  return undefined;
}
