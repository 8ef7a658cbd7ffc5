import { l10n, window } from 'vscode';
import type { Refusal } from '../../../server/src/protocol/refusal.ts';

/** Tells the person why something was not done; settles once they have read it. */
export async function showRefusal({ message }: Refusal): Promise<void> {
  await window.showInformationMessage(message);
}

/** Tells the person that something failed. What failed is in the log by then. @param sentence with its reason */
export function showFailure(sentence: string): void {
  void window.showErrorMessage(sentence);
}

/** The reason in an error, for a sentence. */
export function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

/** The sentence for a failure in the middle of something that needs no name. */
export function failureSentence(error: unknown): string {
  return l10n.t('That did not work: {0}', reasonOf(error));
}

/** Says in the status bar that something is being worked out. */
export async function withStatusMessage(what: string, work: Promise<void>): Promise<void> {
  window.setStatusBarMessage(`$(loading~spin) ${what}…`, work);
  await work;
}
