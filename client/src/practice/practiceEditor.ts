import { Uri, workspace, type TextDocument } from 'vscode';

/** Milliseconds to get ready, where the person has switched it on. */
const readyMs = 3000;

/** Milliseconds before a block begins. */
export function getReadyMs(): number {
  return workspace.getConfiguration('routewright').get<boolean>('getReady') === true ? readyMs : 0;
}

/** Whether the page sounds when a block's time is up. */
export function isSoundWanted(): boolean {
  return workspace.getConfiguration('routewright').get<boolean>('soundAtEnd') === true;
}

/** Whether a message says that a block's time is up where its view is not to be seen. */
export function isNoticeWanted(): boolean {
  return workspace.getConfiguration('routewright').get<boolean>('noticeAtEnd') === true;
}

/** Whether a file is open with changes that are not saved. */
export function hasUnsavedChanges(uri: string): boolean {
  return openDocument(uri)?.isDirty ?? false;
}

/** Saves a file that is open with changes. */
export async function saveDocument(uri: string): Promise<void> {
  await openDocument(uri)?.save();
}

function openDocument(uri: string): TextDocument | undefined {
  const wanted = Uri.parse(uri).toString();
  return workspace.textDocuments.find((document) => document.uri.toString() === wanted);
}
