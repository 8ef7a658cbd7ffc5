import { SymbolKind, type SymbolInformation, type WorkspaceSymbolParams } from 'vscode-languageserver';
import { entryOf, locate } from '../../files/yaml/tree.ts';
import { identifiers } from './identifiers.ts';
import { fileName } from '../documents/uris.ts';
import type { FileServices } from '../documents/fileServices.ts';

/** A longer list would be too long to look through. */
const maxSymbols = 200;

/**
 * Techniques and segments of every known route, by id or name. A name matches a query that contains its letters in the
 * same order; an empty query matches all.
 */
export function workspaceSymbolProvider(
  needs: FileServices,
): (params: WorkspaceSymbolParams) => SymbolInformation[] {
  return ({ query }) => {
    const found: SymbolInformation[] = [];
    for (const file of [...needs.workspace.all()].sort((a, b) => (a.uri < b.uri ? -1 : 1))) {
      if (file.kind !== 'route') continue;
      for (const { entityKind, id, span, path, defines } of identifiers(file)) {
        if (!defines || (entityKind !== 'technique' && entityKind !== 'segment')) continue;
        const owner = locate(file.reading.tree, path.slice(0, 2)).tree;
        const named = entryOf(owner, 'name')?.value;
        const name = named?.type === 'scalar' && named.value !== null ? String(named.value) : id;
        if (!matchesQuery(query, `${name} ${id}`)) continue;
        found.push({
          name: name.trim() || id,
          kind: entityKind === 'technique' ? SymbolKind.Function : SymbolKind.Event,
          containerName: name === id ? fileName(file.uri) : `${id} in ${fileName(file.uri)}`,
          location: {
            uri: needs.documents.spelling(file.uri),
            range: needs.positions.range(file.uri, span),
          },
        });
        if (found.length === maxSymbols) return found;
      }
    }
    return found;
  };
}

function matchesQuery(query: string, text: string): boolean {
  const letters = text.toLowerCase();
  let at = 0;
  for (const letter of query.toLowerCase().replace(/\s/g, '')) {
    const next = letters.indexOf(letter, at);
    if (next < 0) return false;
    at = next + letter.length;
  }
  return true;
}
