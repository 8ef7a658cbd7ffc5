import type { Span } from '../../files/yaml/problem.ts';
import { entryOf, locate } from '../../files/yaml/tree.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import { currentTechniqueId, type ProjectFile, type Project } from '../../workspace/project.ts';
import { filesOf, type Workspace } from '../../workspace/workspace.ts';
import { identifierAt, identifiers, type Identifier } from './identifiers.ts';

/** The kinds of thing that have an id in a route and can be named elsewhere. */
export type SymbolEntityKind = 'technique' | 'segment' | 'use' | 'spot' | 'item';

/** A name at a place in a file. */
export interface RouteSymbol {
  readonly entityKind: SymbolEntityKind;
  /** As written. */
  readonly id: string;
  /** The technique of a use, or the segment of a spot: the id is unique inside it only. */
  readonly scope: string | undefined;
  /** The name itself, without quotes and without the other half of `technique@use`. */
  readonly span: Span;
}

/** A place where a symbol is written. */
export interface Occurrence extends RouteSymbol {
  readonly uri: string;
  readonly defines: boolean;
}

/** The symbol at an offset of a file; in `technique@use`, the half that contains the offset. */
export function symbolAt(file: ProjectFile, offset: number): RouteSymbol | undefined {
  const identifier = identifierAt(file, offset);
  const found = identifier ? symbolsOf(file, identifier) : [];
  return found.find(({ span }) => span.start <= offset && offset <= span.end) ?? found[0];
}

/** Every symbol written in a file, in the order of the text. */
export function* symbolsIn(file: ProjectFile): Generator<Occurrence> {
  for (const identifier of identifiers(file))
    for (const symbol of symbolsOf(file, identifier))
      yield {
        ...symbol,
        uri: file.uri,
        defines: identifier.defines && symbol.entityKind === identifier.entityKind,
      };
}

function symbolsOf(file: ProjectFile, identifier: Identifier): RouteSymbol[] {
  const { entityKind, id, use } = identifier;
  if (entityKind === 'route') return [];
  const span = nameSpan(file.reading.text, identifier);
  const symbol: RouteSymbol = { entityKind, id, scope: scopeOf(file, identifier), span };
  if (use === undefined) return [symbol];
  const start = span.end + 1;
  return [symbol, { entityKind: 'use', id: use, scope: id, span: { start, end: start + use.length } }];
}

/**
 * The span of the name in a word that may be quoted; the span of the whole word where the name is written with escapes.
 */
function nameSpan(text: string, { id, span }: Identifier): Span {
  const written = text.slice(span.start, span.end);
  const start = span.start + (/^["']/.test(written) ? 1 : 0);
  return text.startsWith(id, start) ? { start, end: start + id.length } : span;
}

function scopeOf({ reading: { tree } }: ProjectFile, { entityKind, path }: Identifier): string | undefined {
  if (entityKind !== 'use' && entityKind !== 'spot') return undefined;
  const owner = locate(tree, entityKind === 'use' ? path.slice(0, -1) : path.slice(0, 2)).tree;
  const name = entryOf(owner, entityKind === 'use' ? 'use' : 'id')?.value;
  return name?.type === 'scalar' ? String(name.value) : undefined;
}

/** The projects in which a file's names are looked up, the main one first. */
export function projectsFor(workspace: Workspace, file: ProjectFile): readonly Project[] {
  const nearest = workspace.projectOf(file.uri);
  const all = workspace.projectsOf(file.uri);
  return nearest ? [nearest, ...all.filter(({ route }) => route.uri !== nearest.route.uri)] : all;
}

/**
 * The files in which a symbol of a file has the same meaning. Routes that extend each other share their techniques and
 * the practice of them; segments, uses and items belong to the route that writes them and to its own logs.
 */
function filesSharingSymbol(
  workspace: Workspace,
  file: ProjectFile,
  { entityKind }: Pick<RouteSymbol, 'entityKind'>,
): ProjectFile[] {
  const projects =
    entityKind === 'technique' ? relatedProjects(workspace, file) : projectsSharingSegments(workspace, file);
  const uris = new Set<string>([file.uri]);
  for (const project of projects)
    for (const { uri } of filesOf(project)) {
      const other = workspace.file(uri);
      if (other && (entityKind === 'technique' || belongsToProjects(projects, other))) uris.add(uri);
    }
  return [...uris].flatMap((uri) => workspace.file(uri) ?? []);
}

/** The projects of all routes that share a file with this file's project, directly or through other projects. */
export function relatedProjects(workspace: Workspace, file: ProjectFile): Project[] {
  const found = new Set(workspace.projectsOf(file.uri));
  const routes = new Set([...found].flatMap(routeChainOf));
  const { projects } = workspace.groups();
  for (let before = -1; before !== found.size;) {
    before = found.size;
    for (const project of projects) {
      const chain = routeChainOf(project);
      if (found.has(project) || !chain.some((uri) => routes.has(uri))) continue;
      found.add(project);
      for (const uri of chain) routes.add(uri);
    }
  }
  return [...found];
}

function routeChainOf({ route, bases }: Project): string[] {
  return [route, ...bases].map(({ uri }) => uri);
}

/** The projects that use the same written segments as this file's project. */
function projectsSharingSegments(workspace: Workspace, file: ProjectFile): Project[] {
  const [nearest] = projectsFor(workspace, file);
  if (!nearest) return [];
  const owner = file.kind === 'route' ? file.uri : segmentOwnerOf(nearest);
  return relatedProjects(workspace, file).filter((project) => segmentOwnerOf(project) === owner);
}

/**
 * URI of the route that writes a project's segments: the nearest one in the chain of extended routes that writes any.
 */
function segmentOwnerOf({ route, bases }: Project): string {
  const writes = ({ reading }: { reading: ProjectFile['reading'] }) => {
    const value = entryOf(reading.tree, 'segments')?.value;
    return value?.type === 'list' && value.items.length > 0;
  };
  return ([route, ...bases].find(writes) ?? route).uri;
}

function belongsToProjects(projects: readonly Project[], file: ProjectFile): boolean {
  if (file.kind === 'route') return projects.some((project) => segmentOwnerOf(project) === file.uri);
  const named = routeUri(file.uri, file.document.route);
  return projects.some(({ route }) => route.uri === named);
}

/** Every place that names the same thing as a symbol of a file, in the files where the symbol has the same meaning. */
export function occurrences(workspace: Workspace, file: ProjectFile, symbol: RouteSymbol): Occurrence[] {
  const [project] = projectsFor(workspace, file);
  const idOf = (id: string) => (project && currentTechniqueId(project, id)) ?? id;
  const key = ({ entityKind, id, scope }: RouteSymbol): string => {
    const owner = entityKind === 'use' && scope !== undefined ? idOf(scope) : (scope ?? '');
    return [entityKind, entityKind === 'technique' ? idOf(id) : id, owner].join(' ');
  };
  const wanted = key(symbol);
  return filesSharingSymbol(workspace, file, symbol).flatMap((other) =>
    [...symbolsIn(other)].filter((symbol) => key(symbol) === wanted),
  );
}
