import { window } from 'vscode';
import { isRoutewrightDocument } from './selector.ts';

/** The URI of the file in front if it is one of ours, else of one that can be seen. */
export function visibleRouteFile(): string | undefined {
  const front = window.activeTextEditor?.document;
  if (front && isRoutewrightDocument(front)) return front.uri.toString();
  return window.visibleTextEditors
    .find(({ document }) => isRoutewrightDocument(document))
    ?.document.uri.toString();
}
