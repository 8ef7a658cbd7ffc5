/** A stretch of text: UTF-16 offsets, the end exclusive. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** Something wrong with the text of one file, found while reading it. */
export interface Problem extends Span {
  /** Stable name of what is wrong; listed in rules/catalogue.ts. */
  readonly code: string;
  /** What is wrong and what to do about it. */
  readonly message: string;
  /** Another place in the same file that the message speaks of. */
  readonly related?: Span & { readonly message: string };
  /** The text that would mend the span, where there is one. */
  readonly replacement?: { readonly text: string; readonly title: string };
}

/** The problem, moved by `shift` characters. */
export function shiftProblem(problem: Problem, shift: number): Problem {
  if (shift === 0) return problem;
  const { related } = problem;
  return {
    ...problem,
    start: problem.start + shift,
    end: problem.end + shift,
    ...(related && { related: { ...related, start: related.start + shift, end: related.end + shift } }),
  };
}
