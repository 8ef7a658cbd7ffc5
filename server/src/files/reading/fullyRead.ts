import type { Problem } from '../yaml/problem.ts';

/**
 * Problems that leave some of a file's text unread: what is written there may mean more than it seems to. Who edits
 * such a text leaves it alone, and what is missing in it is not missed. After any other problem all of the text has
 * been read, and only a value was left out.
 */
const unreadTextCodes: ReadonlySet<string> = new Set([
  // An open quote or bracket may take in all that is written behind it, as soon as it is closed.
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
]);

/** Whether all of a text was read, if not understood. */
export function isFullyRead(reading: { readonly problems: readonly Problem[] }): boolean {
  return unreadProblemCount(reading) === 0;
}

/** How many problems leave text unread. */
export function unreadProblemCount({ problems }: { readonly problems: readonly Problem[] }): number {
  return problems.filter(({ code }) => unreadTextCodes.has(code)).length;
}
