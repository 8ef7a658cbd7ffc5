/** Opens a file beside the pages of ours, never over one. */
import { Range, Uri, window, type TextDocumentShowOptions, type TextEditor } from 'vscode';
import type { ProtocolLocation, ProtocolRange } from '../../../server/src/protocol/places.ts';
import { fileColumn } from './columns.ts';

/** Shows a file. */
export function showFile(
  target: Uri,
  options: Omit<TextDocumentShowOptions, 'viewColumn'> = {},
): Thenable<TextEditor> {
  return window.showTextDocument(target, { ...options, viewColumn: fileColumn(target) });
}

/** Shows a place in a file. */
export async function showPlace({ uri, range }: ProtocolLocation): Promise<void> {
  await showFile(Uri.parse(uri), { selection: rangeOf(range) });
}

/** A range of the protocol as a range of the editor. */
export function rangeOf({ start, end }: ProtocolRange): Range {
  return new Range(start.line, start.character, end.line, end.character);
}
