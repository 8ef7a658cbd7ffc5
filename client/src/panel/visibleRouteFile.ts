import { window } from 'vscode';
import { isOurs } from '../server/selector.ts';

/** The URI of the file in front if it is one of ours, else of one that can be seen. */
export function fileInFront(): string | undefined {
  const front = window.activeTextEditor?.document;
  if (front && isOurs(front)) return front.uri.toString();
  return window.visibleTextEditors.find(({ document }) => isOurs(document))?.document.uri.toString();
}
