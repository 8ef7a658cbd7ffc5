import { unreadProblemCount } from '../reading/fullyRead.ts';
import { readSource, type Reading } from '../reading/reading.ts';
import { toValue } from '../yaml/value.ts';
import { canonicalText } from './canonicalText.ts';
import { applyEdits, type TextEdit } from './textEdit.ts';

/**
 * A file read again after edits.
 *
 * @param counting which new problems rule the edits out: `all`, or those that leave text `unread`
 * @returns undefined where the edits cause such a problem
 */
export function readAfter(
  reading: Reading,
  edits: readonly TextEdit[],
  counting: 'all' | 'unread' = 'all',
): Reading | undefined {
  const after = readSource(reading.kind, applyEdits(reading.text, edits), reading);
  const problemsOf = (one: Reading) => (counting === 'all' ? one.problems.length : unreadProblemCount(one));
  return problemsOf(after) <= problemsOf(reading) ? after : undefined;
}

/** Whether the text after the edits reads without a new problem. */
export function addsNoProblems(reading: Reading, edits: readonly TextEdit[]): boolean {
  return readAfter(reading, edits) !== undefined;
}

/**
 * Whether edits do what they are meant to and nothing else: the file then says exactly `wanted`, and has no new
 * problem.
 *
 * @param wanted the file's whole value after the edits, its keys in any order
 * @param counting see {@link readAfter}; left out: only problems that leave text unread
 */
export function yieldsValue(
  reading: Reading,
  edits: readonly TextEdit[],
  wanted: unknown,
  counting: 'all' | 'unread' = 'unread',
): boolean {
  const after = readAfter(reading, edits, counting);
  return after !== undefined && canonicalText(toValue(after.tree)) === canonicalText(wanted);
}
