import {
  DocumentHighlightKind,
  type DocumentHighlight,
  type DocumentHighlightParams,
  type Location,
  type ReferenceParams,
} from 'vscode-languageserver';
import { occurrences, symbolAt, type Occurrence } from './occurrences.ts';
import type { Session } from '../server/session.ts';

/** Every place in the files of a route that names what a word of one of them names, under its former ids too. */
export function references(
  session: Session,
  { textDocument, position, context }: ReferenceParams,
): Location[] {
  return occurrencesAt(session, textDocument.uri, position)
    .filter(({ defines }) => context.includeDeclaration || !defines)
    .map(({ uri, span }) => ({
      uri: session.documents.spelling(uri),
      range: session.positions.range(uri, span),
    }));
}

/** The same within the file, so that an editor marks it: where it is defined as written, elsewhere as read. */
export function documentHighlights(
  session: Session,
  { textDocument, position }: DocumentHighlightParams,
): DocumentHighlight[] {
  const own = session.file(textDocument.uri)?.uri;
  return occurrencesAt(session, textDocument.uri, position)
    .filter(({ uri }) => uri === own)
    .map(({ uri, span, defines }) => ({
      range: session.positions.range(uri, span),
      kind: defines ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
    }));
}

function occurrencesAt(session: Session, uri: string, position: ReferenceParams['position']): Occurrence[] {
  const file = session.file(uri);
  const asked = file && symbolAt(file, session.positions.offset(file.uri, position));
  return asked ? occurrences(session, file, asked) : [];
}
