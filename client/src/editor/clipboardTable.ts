import { env, l10n } from 'vscode';
import { showInformation } from './messages.ts';

/** How many columns are offered to be left out: what cannot be read has to stay in view below them. */
const mostColumns = 3;

/** The text on the clipboard; undefined where there is none, and the person is told what to do. */
export async function clipboardTable(): Promise<string | undefined> {
  const text = await env.clipboard.readText();
  if (text.trim() !== '') return text;
  void showInformation(
    l10n.t('There is no text on the clipboard. First copy the table, with its headings, from a spreadsheet.'),
  );
  return undefined;
}

/**
 * Answers to a table with columns that cannot be read: leave one out.
 *
 * @param headings of the columns that may be left out
 * @param ignored those that are left out already
 * @returns the columns to ignore after each answer, by the answer
 */
export function leaveOutAnswers(
  headings: readonly string[],
  ignored: readonly string[],
): [answer: string, ignored: string[]][] {
  return headings
    .filter((heading) => !ignored.includes(heading))
    .slice(0, mostColumns)
    .map((heading) => [l10n.t('Leave Out the Column {0}', heading), [...ignored, heading]]);
}
