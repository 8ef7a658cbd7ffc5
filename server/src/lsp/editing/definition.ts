import type { DefinitionParams, Location } from 'vscode-languageserver';
import { locate } from '../../files/yaml/tree.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import { currentTechniqueId, type ProjectFile, type Project } from '../../workspace/project.ts';
import { identifierAt, type Identifier } from './identifiers.ts';
import { projectsFor } from './occurrences.ts';
import type { Session } from '../server/session.ts';

/** Where the technique, segment or route is defined that a word of a file names. */
export function definition(session: Session, { textDocument, position }: DefinitionParams): Location | null {
  const file = session.file(textDocument.uri);
  const meaning = file && identifierAt(file, session.positions.offset(file.uri, position));
  if (!meaning) return null;
  if (meaning.entityKind === 'route') return routeFile(session, file, meaning);
  for (const project of projectsFor(session, file)) {
    const location = locationOf(session, project, meaning);
    if (location) return location;
  }
  return null;
}

/** Where a technique is defined, in the project's own route or one that it extends. */
export function techniqueLocation(session: Session, project: Project, id: string): Location | undefined {
  const technique = project.techniques.get(currentTechniqueId(project, id) ?? '');
  const reading = technique && session.workspace.file(technique.uri)?.reading;
  if (!reading) return undefined;
  const { key, value } = locate(reading.tree, technique.path);
  return spelled(session, technique.uri, key ?? value);
}

/** Where a technique or segment is defined. */
export function locationOf(
  session: Session,
  project: Project,
  { entityKind: thing, id }: Identifier,
): Location | undefined {
  if (thing === 'technique') return techniqueLocation(session, project, id);
  const segment = thing === 'segment' ? project.segments.find((candidate) => candidate.id === id) : undefined;
  const reading = segment && session.workspace.file(segment.uri)?.reading;
  if (!reading) return undefined;
  return spelled(session, segment.uri, locate(reading.tree, [...segment.path, 'id']).value);
}

function routeFile(session: Session, file: ProjectFile, meaning: Identifier): Location | null {
  const uri = routeUri(file.uri, meaning.id);
  if (uri === undefined || !session.workspace.file(uri)) return null;
  return spelled(session, uri, { start: 0, end: 0 });
}

function spelled(session: Session, uri: string, span: { start: number; end: number }): Location {
  return { uri: session.documents.spelling(uri), range: session.positions.range(uri, span) };
}
