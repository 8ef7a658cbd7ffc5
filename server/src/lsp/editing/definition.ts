import type { DefinitionParams, Location } from 'vscode-languageserver';
import { locate } from '../../files/yaml/tree.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import { currentTechniqueId, type ProjectFile, type Project } from '../../workspace/project.ts';
import { identifierAt, type Identifier } from './identifiers.ts';
import { projectsFor } from './occurrences.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';

/** The place where the technique, segment or route is defined that the word at a position names. */
export function definitionProvider(needs: FileServices): (params: DefinitionParams) => Location | null {
  return ({ textDocument, position }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    const identifier = file && identifierAt(file, needs.positions.offset(file.uri, position));
    if (!identifier) return null;
    if (identifier.entityKind === 'route') return routeFile(needs, file, identifier);
    for (const project of projectsFor(needs.workspace, file)) {
      const location = locationOf(needs, project, identifier);
      if (location) return location;
    }
    return null;
  };
}

/** Where a technique is defined, in the project's own route or one that it extends. */
export function techniqueLocation(needs: FileServices, project: Project, id: string): Location | undefined {
  const technique = project.techniques.get(currentTechniqueId(project, id) ?? '');
  const reading = technique && needs.workspace.file(technique.uri)?.reading;
  if (!reading) return undefined;
  const { key, value } = locate(reading.tree, technique.path);
  return spelled(needs, technique.uri, key ?? value);
}

/** Where a technique or segment is defined. */
export function locationOf(
  needs: FileServices,
  project: Project,
  { entityKind, id }: Identifier,
): Location | undefined {
  if (entityKind === 'technique') return techniqueLocation(needs, project, id);
  const segment =
    entityKind === 'segment' ? project.segments.find((candidate) => candidate.id === id) : undefined;
  const reading = segment && needs.workspace.file(segment.uri)?.reading;
  if (!reading) return undefined;
  return spelled(needs, segment.uri, locate(reading.tree, [...segment.path, 'id']).value);
}

function routeFile(needs: FileServices, file: ProjectFile, identifier: Identifier): Location | null {
  const uri = routeUri(file.uri, identifier.id);
  if (uri === undefined || !needs.workspace.file(uri)) return null;
  return spelled(needs, uri, { start: 0, end: 0 });
}

function spelled(needs: FileServices, uri: string, span: { start: number; end: number }): Location {
  return { uri: needs.documents.spelling(uri), range: needs.positions.range(uri, span) };
}
