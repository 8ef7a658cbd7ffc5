import {
  SymbolKind,
  type CallHierarchyIncomingCall,
  type CallHierarchyIncomingCallsParams,
  type CallHierarchyItem,
  type CallHierarchyOutgoingCall,
  type CallHierarchyOutgoingCallsParams,
  type CallHierarchyPrepareParams,
} from 'vscode-languageserver';
import { locate } from '../../files/yaml/tree.ts';
import { currentTechniqueId, type WithUri, type Project } from '../../workspace/project.ts';
import type { Technique } from '../../files/documents/documents.ts';
import { projectsFor, symbolAt } from './occurrences.ts';
import { fileName } from '../documents/uris.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

/** The technique at a position, as the item from which an editor requests what it needs and what needs it. */
export function prepareCallHierarchyProvider(
  needs: FileServices,
): (params: CallHierarchyPrepareParams) => CallHierarchyItem[] | null {
  return ({ textDocument, position }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    const symbol = file && symbolAt(file, needs.positions.offset(file.uri, position));
    if (!file || symbol?.entityKind !== 'technique') return null;
    for (const project of projectsFor(needs.workspace, file)) {
      const technique = project.techniques.get(currentTechniqueId(project, symbol.id) ?? '');
      if (technique) return [itemOf(needs, project, technique)];
    }
    return null;
  };
}

/** The techniques that need this one, each with the places where the need is written. */
export function incomingCallsProvider(
  needs: FileServices,
): (params: CallHierarchyIncomingCallsParams) => CallHierarchyIncomingCall[] | null {
  return ({ item }) => {
    const resolved = resolveItem(needs, item);
    if (!resolved) return null;
    const { project, technique } = resolved;
    return [...project.techniques.values()].flatMap((other) => {
      const written = other.needs.filter(({ id }) => currentTechniqueId(project, id) === technique.id);
      if (written.length === 0) return [];
      return [
        {
          from: itemOf(needs, project, other),
          fromRanges: written.map(({ path }) => rangeOfPath(needs, other.uri, path)),
        },
      ];
    });
  };
}

/** The techniques that this one needs. */
export function outgoingCallsProvider(
  needs: FileServices,
): (params: CallHierarchyOutgoingCallsParams) => CallHierarchyOutgoingCall[] | null {
  return ({ item }) => {
    const resolved = resolveItem(needs, item);
    if (!resolved) return null;
    const { project, technique } = resolved;
    return technique.needs.flatMap(({ id, path }) => {
      const needed = project.techniques.get(currentTechniqueId(project, id) ?? '');
      if (!needed) return [];
      return [{ to: itemOf(needs, project, needed), fromRanges: [rangeOfPath(needs, technique.uri, path)] }];
    });
  };
}

/** The data of an item. The file may have changed since the item was sent. */
interface ItemData {
  readonly route: string;
  readonly technique: string;
}

function itemOf(needs: FileServices, project: Project, technique: WithUri<Technique>): CallHierarchyItem {
  const { uri, id, name, path } = technique;
  const reading = needs.workspace.file(uri)?.reading;
  const place = reading && locate(reading.tree, path);
  const key = place?.key ?? { start: 0, end: 0 };
  const end = Math.max(key.end, place?.value.end ?? 0);
  const data: ItemData = { route: project.route.uri, technique: id };
  return {
    name: name.trim() || id,
    kind: SymbolKind.Function,
    detail: name === id ? fileName(uri) : `${id} in ${fileName(uri)}`,
    uri: needs.documents.spelling(uri),
    range: needs.positions.range(uri, { start: key.start, end }),
    selectionRange: needs.positions.range(uri, key),
    data,
  };
}

function resolveItem(
  needs: FileServices,
  { data }: CallHierarchyItem,
): { project: Project; technique: WithUri<Technique> } | undefined {
  const { route, technique: id } = (data ?? {}) as Partial<ItemData>;
  const project = needs.workspace.groups().projects.find((one) => one.route.uri === route);
  const technique = project?.techniques.get(currentTechniqueId(project, id ?? '') ?? '');
  return project && technique && { project, technique };
}

function rangeOfPath(needs: FileServices, uri: string, path: Technique['path']): CallHierarchyItem['range'] {
  const reading = needs.workspace.file(uri)?.reading;
  return needs.positions.range(uri, reading ? locate(reading.tree, path).value : { start: 0, end: 0 });
}
