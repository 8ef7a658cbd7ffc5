import type { Problem } from '../yaml/problem.ts';

/**
 * Problems that leave some of a file's text unread, so that the text may mean more than what was read. Such a text is
 * not edited, and a name that seems to be missing in it is not reported. After any other problem all of the text has
 * been read, and only a value was left out.
 */
const unreadTextCodes: ReadonlySet<string> = new Set([
  // All that is written behind an open quote or bracket may belong inside it.
  'yaml-syntax',
  // Of two versions only the first is read.
  'merge-conflict',
  // Of several documents only the first is read.
  'several-documents',
  // What lies deeper, or what the further aliases stand for, is left out.
  'nested-too-deep',
  'aliases-too-large',
  // Nothing at all is read.
  'file-too-large',
  'file-not-read',
]);

/** Whether all of a text was read, even if some of its values are wrong. */
export function isFullyRead(reading: { readonly problems: readonly Problem[] }): boolean {
  return unreadProblemCount(reading) === 0;
}

/** How many problems leave text unread. */
export function unreadProblemCount({ problems }: { readonly problems: readonly Problem[] }): number {
  return problems.filter(({ code }) => unreadTextCodes.has(code)).length;
}

/** The first problem of a text that leaves some of it unread; undefined where all was read. */
export function firstUnreadProblem(reading: { readonly problems: readonly Problem[] }): Problem | undefined {
  // The problems of a reading are in the order of its text.
  return reading.problems.find(({ code }) => unreadTextCodes.has(code));
}
