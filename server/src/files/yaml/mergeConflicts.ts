import { linesOf } from '../../text/lines.ts';
import type { Problem } from './problem.ts';

/** The marker lines that a merge puts around two versions that it could not combine. */
export const mergeMarker = /^(?:<{7}|={7}|>{7}|\|{7})(?=[ \t]|$)/;

/** A conflict: our version, the common ancestor where it is shown, and their version. */
interface Conflict {
  /** Offsets of the first marker line: its beginning, its end, and where our version begins. */
  readonly start: number;
  readonly firstLineEnd: number;
  readonly ours: number;
  /** Where our version ends: the line of the ancestor's marker, or the one between the versions. */
  oursEnd: number | undefined;
  /** True behind the marker between the versions. */
  theirs: boolean;
}

/**
 * Reads the first version of each merge conflict: markers and second version become blanks, so that every
 * offset stays right. One problem a conflict; a conflict that does not end is left as it is.
 */
export function blankMergeConflicts(text: string): { text: string; problems: Problem[] } {
  const problems: Problem[] = [];
  if (!text.includes('<<<<<<<')) return { text, problems };
  const parts: string[] = [];
  let copied = 0;
  let open: Conflict | undefined;
  for (const { start, nextStart, text: line } of linesOf(text, 0)) {
    const marker = mergeMarker.test(line) ? line[0] : undefined;
    if (!open && marker === '<')
      open = {
        start,
        firstLineEnd: start + line.length,
        ours: nextStart,
        oursEnd: undefined,
        theirs: false,
      };
    else if (open && !open.theirs && (marker === '|' || marker === '=')) {
      open.oursEnd ??= start;
      open.theirs = marker === '=';
    } else if (open?.theirs && marker === '>') {
      const end = start + line.length;
      problems.push(conflictProblem(open, { start, end: start + line.trimEnd().length }));
      parts.push(text.slice(copied, open.start), blank(text.slice(open.start, open.ours)));
      parts.push(text.slice(open.ours, open.oursEnd), blank(text.slice(open.oursEnd, end)));
      copied = end;
      open = undefined;
    }
  }
  return { text: parts.join('') + text.slice(copied), problems };
}

function conflictProblem({ start, firstLineEnd }: Conflict, last: { start: number; end: number }): Problem {
  return {
    start,
    end: firstLineEnd,
    code: 'merge-conflict',
    message: 'A merge left two versions here; the first is read. Keep one and delete the marker lines.',
    related: { ...last, message: 'The second version ends here.' },
  };
}

function blank(text: string): string {
  return text.replace(/[^\r\n]/g, ' ');
}
