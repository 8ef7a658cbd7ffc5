import type { Location, Position, Range } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Span } from '../../files/yaml/problem.ts';
import type { Reading } from '../../files/reading/reading.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { OpenDocuments } from './openDocuments.ts';

const emptyRange: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

/**
 * Converts offsets in a file's text to lines and UTF-16 characters, and back. A table of line starts is kept as long as
 * the file's reading; an open document has its own, which each edit updates.
 */
export class PositionConverter {
  private readonly workspace: Workspace;
  private readonly open: OpenDocuments;
  private readonly lines = new WeakMap<Reading, TextDocument>();

  constructor(workspace: Workspace, open: OpenDocuments) {
    this.workspace = workspace;
    this.open = open;
  }

  range(uri: string, { start, end }: Span): Range {
    const document = this.document(uri);
    if (!document) return emptyRange;
    return { start: document.positionAt(start), end: document.positionAt(end) };
  }

  location(uri: string, span: Span): Location {
    return { uri, range: this.range(uri, span) };
  }

  offset(uri: string, position: Position): number {
    return this.document(uri)?.offsetAt(position) ?? 0;
  }

  /** The text in a span of a file. */
  text(uri: string, { start, end }: Span): string {
    return this.workspace.file(uri)?.reading.text.slice(start, end) ?? '';
  }

  private document(uri: string): TextDocument | undefined {
    const reading = this.workspace.file(uri)?.reading;
    if (!reading) return undefined;
    const open = this.open.get(uri);
    if (open?.getText() === reading.text) return open;
    let document = this.lines.get(reading);
    if (!document) {
      document = TextDocument.create(uri, 'routewright', 0, reading.text);
      this.lines.set(reading, document);
    }
    return document;
  }
}
