import { l10n, Range, Uri, workspace, WorkspaceEdit } from 'vscode';
import type { FileEdit, FileEditResult } from '../../../server/src/protocol/fileEdit.ts';
import { rangeOf, showFile } from './showFile.ts';

/** The first may only open the file, the second may meet a person's own edit; the third is in reserve. */
const maxAttempts = 3;

/** How a file is shown after it was changed. */
export interface ShowChange {
  /** True: the keyboard focus does not move. */
  readonly keepFocus: boolean;
}

/**
 * Asks the server for an edit and applies it as one step to undo. Where the document was changed after the server read
 * it, the server is asked again.
 *
 * @param ask asks the server for the edit of the current text
 * @returns the sentence to show to the person
 */
export async function requestEdit(ask: () => Promise<FileEditResult>, show: ShowChange): Promise<string> {
  for (let attempt = 0; attempt < maxAttempts; attempt++) {
    const { edit, message } = await ask();
    // A file that was not open has no version. Applying opens it, so the next answer is for a version.
    if (!edit || (await applyEdit(edit, show))) return message;
  }
  return l10n.t('The file keeps changing, and nothing was written. Try again in a moment.');
}

/** Applies an edit as one step to undo and shows the file; false where the document is not of the edit's version. */
async function applyEdit(edit: FileEdit, { keepFocus }: ShowChange): Promise<boolean> {
  const { uri, version, changes, create } = edit;
  const target = Uri.parse(uri);
  const step = new WorkspaceEdit();
  if (create) {
    step.createFile(target, { contents: bytesOf(newTextOf(edit)), ignoreIfExists: false });
  } else {
    const document = await workspace.openTextDocument(target);
    if (document.version !== version) return false;
    for (const { range, newText } of changes) step.replace(target, rangeOf(range), newText);
  }
  if (!(await workspace.applyEdit(step))) return false;
  const [first] = changes;
  if (keepFocus) {
    const editor = await showFile(target, { preview: false, preserveFocus: true });
    if (first) editor.revealRange(rangeOf(first.range));
    return true;
  }
  const line = first ? first.range.start.line + first.newText.trimEnd().split('\n').length - 1 : 0;
  await showFile(target, { preview: false, selection: new Range(line, 0, line, 0) });
  return true;
}

/**
 * Writes a file that an edit creates, unless there is one. It cannot be undone: undoing it would remove a log to which
 * attempts have been written since.
 */
export async function createMissingFile(edit: FileEdit): Promise<void> {
  const target = Uri.parse(edit.uri);
  if (!(await fileExists(target))) await workspace.fs.writeFile(target, bytesOf(newTextOf(edit)));
}

/** Whether a file or a folder has this address. */
export async function fileExists(uri: Uri): Promise<boolean> {
  return Promise.resolve(workspace.fs.stat(uri)).then(
    () => true,
    () => false,
  );
}

/** A text as the bytes of a file. */
export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

function newTextOf({ changes }: FileEdit): string {
  return changes.map(({ newText }) => newText).join('');
}
