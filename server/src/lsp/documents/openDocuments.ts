import type { TextDocumentContentChangeEvent, TextDocumentItem } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { normalUri } from './uris.ts';

/** The documents that the editor has open, with their versions, until they are closed. */
export class OpenDocuments {
  private readonly documents = new Map<string, TextDocument>();

  open({ uri, languageId, version, text }: TextDocumentItem): void {
    this.documents.set(normalUri(uri), TextDocument.create(uri, languageId, version, text));
  }

  /** Applies edits in their order. Edits of a document that is not open are ignored. */
  change(uri: string, changes: readonly TextDocumentContentChangeEvent[], version: number): void {
    const document = this.documents.get(normalUri(uri));
    if (document) TextDocument.update(document, [...changes], version);
  }

  close(uri: string): void {
    this.documents.delete(normalUri(uri));
  }

  uris(): readonly string[] {
    return [...this.documents.keys()];
  }

  /** The document as it is now. The next edit changes this same object. */
  get(uri: string): TextDocument | undefined {
    return this.documents.get(uri);
  }

  text(uri: string): string | undefined {
    return this.documents.get(uri)?.getText();
  }

  version(uri: string): number | undefined {
    return this.documents.get(uri)?.version;
  }

  /** The URI in the client's spelling. */
  spelling(uri: string): string {
    return this.documents.get(uri)?.uri ?? uri;
  }
}
