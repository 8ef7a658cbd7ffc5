import { l10n } from 'vscode';
import type { Refusal } from '../../../server/src/protocol/refusal.ts';
import { showError, showInformation } from './messages.ts';

/** Tells the person why something was not done; resolves when they have closed the message. */
export async function showRefusal({ message }: Refusal): Promise<void> {
  await showInformation(message);
}

/**
 * Tells the person that something failed. The error itself has been written to the log before. @param sentence with its
 * reason
 */
export function showFailure(sentence: string): void {
  void showError(sentence);
}

/** The message of an error, to be put into a sentence. */
export function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

/** The sentence for a failure where the sentence need not name what was being done. */
export function failureSentence(error: unknown): string {
  return l10n.t('That did not work: {0}', reasonOf(error));
}
