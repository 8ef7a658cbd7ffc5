import type { AnnotatedTextEdit, ChangeAnnotation, WorkspaceEdit } from 'vscode-languageserver';
import type { TextEdit } from '../../files/edit/textEdit.ts';
import type { FileEdit } from '../../protocol/fileEdit.ts';
import type { ClientFeatures } from './clientFeatures.ts';
import type { FileServices } from './fileServices.ts';

/** A change of a known file, in offsets of its current text. */
export interface PlacedEdit extends TextEdit {
  readonly uri: string;
  /** What the edit does. Given where a person may want to refuse this edit alone. */
  readonly label?: string;
}

export type FileEditNeeds = Pick<FileServices, 'documents' | 'positions'>;

/** The edit of one known file. */
export function fileEdit(
  { documents, positions }: FileEditNeeds,
  uri: string,
  edits: readonly TextEdit[],
): FileEdit {
  return {
    uri: documents.spelling(uri),
    version: documents.version(uri) ?? null,
    changes: edits.map((edit) => ({ range: positions.range(uri, edit), newText: edit.text })),
    create: false,
  };
}

/** The edit of one file in the form that the protocol's own requests use. */
export function toWorkspaceEdit({ uri, version, changes, create }: FileEdit): WorkspaceEdit {
  return {
    documentChanges: [
      ...(create ? [{ kind: 'create' as const, uri }] : []),
      { textDocument: { uri, version }, edits: [...changes] },
    ],
  };
}

export interface WorkspaceEditNeeds extends FileEditNeeds {
  readonly client: Pick<ClientFeatures, 'annotations'>;
}

/** Edits of several known files as one change: one undo takes all of them back. */
export function workspaceEdit(needs: WorkspaceEditNeeds, edits: readonly PlacedEdit[]): WorkspaceEdit {
  const byUri = new Map<string, PlacedEdit[]>();
  for (const edit of edits) byUri.set(edit.uri, [...(byUri.get(edit.uri) ?? []), edit]);
  const labels = needs.client.annotations ? edits.flatMap(({ label }) => label ?? []) : [];
  const annotations = Object.fromEntries(
    labels.map((label): [string, ChangeAnnotation] => [label, { label }]),
  );
  return {
    documentChanges: [...byUri].map(([of, placed]) => {
      const { uri, version, changes } = fileEdit(needs, of, placed);
      const labelled = changes.map((change, index): (typeof changes)[number] | AnnotatedTextEdit => {
        const label = placed[index]?.label;
        return label !== undefined && needs.client.annotations ? { ...change, annotationId: label } : change;
      });
      return { textDocument: { uri, version }, edits: labelled };
    }),
    ...(labels.length > 0 && { changeAnnotations: annotations }),
  };
}
