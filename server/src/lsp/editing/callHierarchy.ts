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
import { fileName, type Session } from '../server/session.ts';

/** A technique, to be asked what it needs and what it opens. */
export function prepareCallHierarchy(
  session: Session,
  { textDocument, position }: CallHierarchyPrepareParams,
): CallHierarchyItem[] | null {
  const file = session.file(textDocument.uri);
  const asked = file && symbolAt(file, session.positions.offset(file.uri, position));
  if (!file || asked?.entityKind !== 'technique') return null;
  for (const project of projectsFor(session, file)) {
    const technique = project.techniques.get(currentTechniqueId(project, asked.id) ?? '');
    if (technique) return [itemOf(session, project, technique)];
  }
  return null;
}

/** The techniques that need this one: what it opens, each with the places where that is written. */
export function incomingCalls(
  session: Session,
  { item }: CallHierarchyIncomingCallsParams,
): CallHierarchyIncomingCall[] | null {
  const asked = resolveItem(session, item);
  if (!asked) return null;
  const { project, technique } = asked;
  return [...project.techniques.values()].flatMap((other) => {
    const written = other.needs.filter(({ id }) => currentTechniqueId(project, id) === technique.id);
    if (written.length === 0) return [];
    return [
      {
        from: itemOf(session, project, other),
        fromRanges: written.map(({ path }) => rangeOfPath(session, other.uri, path)),
      },
    ];
  });
}

/** The techniques that this one needs: what it stands on. */
export function outgoingCalls(
  session: Session,
  { item }: CallHierarchyOutgoingCallsParams,
): CallHierarchyOutgoingCall[] | null {
  const asked = resolveItem(session, item);
  if (!asked) return null;
  const { project, technique } = asked;
  return technique.needs.flatMap(({ id, path }) => {
    const needed = project.techniques.get(currentTechniqueId(project, id) ?? '');
    if (!needed) return [];
    return [
      { to: itemOf(session, project, needed), fromRanges: [rangeOfPath(session, technique.uri, path)] },
    ];
  });
}

/** What an item carries, since the file may have changed since it was made. */
interface ItemData {
  readonly route: string;
  readonly technique: string;
}

function itemOf(session: Session, project: Project, technique: WithUri<Technique>): CallHierarchyItem {
  const { uri, id, name, path } = technique;
  const reading = session.workspace.file(uri)?.reading;
  const place = reading && locate(reading.tree, path);
  const key = place?.key ?? { start: 0, end: 0 };
  const end = Math.max(key.end, place?.value.end ?? 0);
  const data: ItemData = { route: project.route.uri, technique: id };
  return {
    name: name.trim() || id,
    kind: SymbolKind.Function,
    detail: name === id ? fileName(uri) : `${id} in ${fileName(uri)}`,
    uri: session.documents.spelling(uri),
    range: session.positions.range(uri, { start: key.start, end }),
    selectionRange: session.positions.range(uri, key),
    data,
  };
}

function resolveItem(
  session: Session,
  { data }: CallHierarchyItem,
): { project: Project; technique: WithUri<Technique> } | undefined {
  const { route, technique: id } = (data ?? {}) as Partial<ItemData>;
  const project = session.workspace.groups().projects.find((one) => one.route.uri === route);
  const technique = project?.techniques.get(currentTechniqueId(project, id ?? '') ?? '');
  return project && technique && { project, technique };
}

function rangeOfPath(session: Session, uri: string, path: Technique['path']): CallHierarchyItem['range'] {
  const reading = session.workspace.file(uri)?.reading;
  return session.positions.range(uri, reading ? locate(reading.tree, path).value : { start: 0, end: 0 });
}
