import type { Problem } from './problem.ts';

/** The marker lines that a merge puts around two versions that it could not combine. */
export const mergeMarker = /^(?:<{7}|={7}|>{7}|\|{7})(?=[ \t]|$)/;

/** A conflict: our version, the common ancestor where it is shown, and their version. */
const conflict = /^<{7}(?: .*)?\r?\n[^]*?^(?:\|{7}(?: .*)?\r?\n[^]*?^)?={7}\r?\n[^]*?^(>{7}(?:[ \t].*)?)$/gm;

/**
 * Reads the first version of each merge conflict: markers and second version become blanks, so that every
 * offset stays right. One problem a conflict.
 */
export function blankMergeConflicts(text: string): { text: string; problems: Problem[] } {
  const problems: Problem[] = [];
  if (!text.includes('<<<<<<<')) return { text, problems };
  const clean = text.replace(conflict, (whole: string, last: string, start: number) => {
    const end = start + whole.length;
    problems.push({
      start,
      end: start + whole.search(/\r?\n/),
      code: 'merge-conflict',
      message: 'A merge left two versions here; the first is read. Keep one and delete the marker lines.',
      related: { start: end - last.trimEnd().length, end, message: 'The second version ends here.' },
    });
    const secondAt = whole.search(/^(?:\|{7}|={7})(?=[ \t\r\n])/m);
    const firstAt = whole.indexOf('\n');
    return blank(whole.slice(0, firstAt)) + whole.slice(firstAt, secondAt) + blank(whole.slice(secondAt));
  });
  return { text: clean, problems };
}

function blank(text: string): string {
  return text.replace(/[^\r\n]/g, ' ');
}
