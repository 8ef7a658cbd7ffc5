import type { DocumentLink, DocumentLinkParams } from 'vscode-languageserver';
import { isWebAddress } from '../../text/webAddress.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import { identifiers, keysAndValues } from './identifiers.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

export type DocumentLinkNeeds = FileServices;

/**
 * Links of a file: to the route that a log names or a route extends, where that file is known, and the `links` of a
 * route.
 */
export function documentLinkProvider(
  needs: DocumentLinkNeeds,
): (params: DocumentLinkParams) => DocumentLink[] {
  return ({ textDocument }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file) return [];
    const links: DocumentLink[] = [];
    for (const { entityKind, id, span } of identifiers(file)) {
      const target = entityKind === 'route' ? routeUri(file.uri, id) : undefined;
      if (target === undefined || !needs.workspace.file(target)) continue;
      links.push({
        range: needs.positions.range(file.uri, span),
        target: needs.documents.spelling(target),
        tooltip: 'Open the route',
      });
    }
    for (const { path, tree, span } of keysAndValues(file.reading.tree, [], 0)) {
      if (path.at(-2) !== 'links' || tree?.type !== 'scalar' || typeof tree.value !== 'string') continue;
      if (!isWebAddress(tree.value)) continue;
      links.push({ range: needs.positions.range(file.uri, span), target: tree.value });
    }
    return links;
  };
}
