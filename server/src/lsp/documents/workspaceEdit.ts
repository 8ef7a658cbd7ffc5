import type { AnnotatedTextEdit, ChangeAnnotation, TextEdit, WorkspaceEdit } from 'vscode-languageserver';
import type { TextEdit as Edit } from '../../files/edit/textEdit.ts';
import type { Session } from '../server/session.ts';

/** An edit of a file that is known to the session. */
export interface FileEdit extends Edit {
  readonly uri: string;
  /** What the edit does, where a person may want to leave it out of the whole. */
  readonly label?: string;
}

/** Edits of several files as one change that is undone at once. Each is meant for the text as it stands. */
export function workspaceEdit(session: Session, edits: readonly FileEdit[]): WorkspaceEdit {
  const { documents, positions: places } = session;
  const byUri = new Map<string, (TextEdit | AnnotatedTextEdit)[]>();
  const labels = new Map<string, ChangeAnnotation>();
  for (const { uri, label, ...edit } of edits) {
    const made: TextEdit = { range: places.range(uri, edit), newText: edit.text };
    const annotated = label !== undefined && session.client.annotations;
    if (annotated) labels.set(label, { label });
    byUri.set(uri, [...(byUri.get(uri) ?? []), annotated ? { ...made, annotationId: label } : made]);
  }
  return {
    documentChanges: [...byUri].map(([uri, changes]) => ({
      textDocument: { uri: documents.spelling(uri), version: documents.version(uri) ?? null },
      edits: changes,
    })),
    ...(labels.size > 0 && { changeAnnotations: Object.fromEntries(labels) }),
  };
}
