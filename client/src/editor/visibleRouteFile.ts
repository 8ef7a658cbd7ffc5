import { window } from 'vscode';
import { isRoutewrightDocument } from './selector.ts';

/** The URI of the file in the active editor if it is a Routewright file, else of one in a visible editor. */
export function visibleRouteFile(): string | undefined {
  const front = window.activeTextEditor?.document;
  if (front && isRoutewrightDocument(front)) return front.uri.toString();
  return window.visibleTextEditors
    .find(({ document }) => isRoutewrightDocument(document))
    ?.document.uri.toString();
}
