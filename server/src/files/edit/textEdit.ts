import { commonAffixes } from '../../text/commonAffixes.ts';
import type { Span } from '../yaml/problem.ts';

/** A stretch of a file's text and what to put in its place. */
export interface TextEdit extends Span {
  readonly text: string;
}

/** An edit that puts text in at an offset. */
export function insertion(at: number, text: string): TextEdit {
  return { start: at, end: at, text };
}

/**
 * Applies edits that do not overlap, all of them meant for the same text. Of several insertions at one offset the
 * first of the list comes first, as in an editor. Takes time in proportion to the text: a table may bring thousands.
 */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let at = 0;
  const parts: string[] = [];
  // At one offset, what is inserted comes before what is replaced.
  for (const edit of [...edits].sort((a, b) => a.start - b.start || a.end - b.end)) {
    parts.push(text.slice(at, edit.start), edit.text);
    at = edit.end;
  }
  return parts.join('') + text.slice(at);
}

/** One edit that turns a text into another: it replaces everything between their common start and their common end. */
export function singleEdit(from: string, to: string): TextEdit {
  const { same, sameEnd } = commonAffixes(from, to);
  return { start: same, end: from.length - sameEnd, text: to.slice(same, to.length - sameEnd) };
}
