import {
  DocumentHighlightKind,
  type DocumentHighlight,
  type DocumentHighlightParams,
  type Location,
  type ReferenceParams,
} from 'vscode-languageserver';
import { occurrences, symbolAt, type Occurrence } from './occurrences.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

/**
 * Every place in the files of a route that names the same thing as the word at a position, also under its former ids.
 */
export function referencesProvider(needs: FileServices): (params: ReferenceParams) => Location[] {
  return ({ textDocument, position, context }) => {
    return occurrencesAt(needs, textDocument.uri, position)
      .filter(({ defines }) => context.includeDeclaration || !defines)
      .map(({ uri, span }) => ({
        uri: needs.documents.spelling(uri),
        range: needs.positions.range(uri, span),
      }));
  };
}

/** The same within one file, for highlighting: a definition is marked as a write, all other places as reads. */
export function documentHighlightProvider(
  needs: FileServices,
): (params: DocumentHighlightParams) => DocumentHighlight[] {
  return ({ textDocument, position }) => {
    const own = fileAt(needs.workspace, textDocument.uri)?.uri;
    return occurrencesAt(needs, textDocument.uri, position)
      .filter(({ uri }) => uri === own)
      .map(({ uri, span, defines }) => ({
        range: needs.positions.range(uri, span),
        kind: defines ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      }));
  };
}

function occurrencesAt(
  needs: FileServices,
  uri: string,
  position: ReferenceParams['position'],
): Occurrence[] {
  const file = fileAt(needs.workspace, uri);
  const symbol = file && symbolAt(file, needs.positions.offset(file.uri, position));
  return symbol ? occurrences(needs.workspace, file, symbol) : [];
}
