import { URI, Utils } from 'vscode-uri';
import type { Segment, Technique } from '../files/documents.ts';
import type { AnyFile, Defined, Project, RouteFile, Stray } from './project.ts';

export interface Groups {
  readonly projects: readonly Project[];
  readonly strays: readonly Stray[];
}

/** Entries of routes with the URI of their file: an entry that did not change keeps its object. */
export class Definitions {
  private readonly segments = new WeakMap<Segment, Defined<Segment>>();
  private readonly techniques = new WeakMap<Technique, Defined<Technique>>();

  segment(segment: Segment, uri: string): Defined<Segment> {
    return keptIn(this.segments, segment, uri);
  }

  technique(technique: Technique, uri: string): Defined<Technique> {
    return keptIn(this.techniques, technique, uri);
  }
}

function keptIn<T extends object>(kept: WeakMap<T, Defined<T>>, entry: T, uri: string): Defined<T> {
  const before = kept.get(entry);
  if (before?.uri === uri) return before;
  const defined = { ...entry, uri };
  kept.set(entry, defined);
  return defined;
}

/**
 * Puts files together: each route with the logs and weeks that name it.
 *
 * @param files all known files by URI
 * @param inside tells whether a URI lies in the folders that the user opened
 * @param definitions what was made of the routes' entries before
 */
export function group(
  files: ReadonlyMap<string, AnyFile>,
  inside: (uri: string) => boolean,
  definitions = new Definitions(),
): Groups {
  const routes = new Map<string, RouteFile>();
  for (const file of files.values()) if (file.kind === 'route') routes.set(file.uri, file);

  const strays: Stray[] = [];
  const byRoute = new Map<string, AnyFile[]>();
  for (const file of files.values()) {
    if (file.kind === 'route') continue;
    const route = routeUri(file.uri, file.document.route);
    const why =
      route === undefined
        ? 'not-named'
        : routes.has(route)
          ? undefined
          : inside(route)
            ? 'missing'
            : 'outside';
    if (why) strays.push({ file, why, route });
    else byRoute.set(route!, [...(byRoute.get(route!) ?? []), file]);
  }

  const families = new Map<string, RouteFile[]>();
  for (const route of routes.values()) {
    const root = basesOf(route, routes).at(-1) ?? route;
    families.set(root.uri, [...(families.get(root.uri) ?? []), route]);
  }
  const projects = [...families.values()].flatMap((family) =>
    family.map((route) => projectOf(route, family, { routes, byRoute, definitions })),
  );
  projects.sort((a, b) => (a.route.uri < b.route.uri ? -1 : 1));
  return { projects, strays };
}

/** URI of a route that a file names by a path relative to itself. */
export function routeUri(from: string, written: string | undefined): string | undefined {
  if (written === undefined) return undefined;
  // A path in front of which several slashes stand would name a host, which no path in a file may do.
  const clean = written.replaceAll('\\', '/').replace(/^\/{2,}/, '/');
  return clean.startsWith('/')
    ? URI.parse(from).with({ path: clean }).toString()
    : Utils.resolvePath(Utils.dirname(URI.parse(from)), clean).toString();
}

/** The routes a route extends, nearest first; a loop ends where it began. */
function basesOf(route: RouteFile, routes: ReadonlyMap<string, RouteFile>): RouteFile[] {
  const bases: RouteFile[] = [];
  const seen = new Set([route.uri]);
  let here: RouteFile | undefined = route;
  while (here) {
    const next = routeUri(here.uri, here.document.extends);
    here = next === undefined || seen.has(next) ? undefined : routes.get(next);
    if (!here) break;
    seen.add(here.uri);
    bases.push(here);
  }
  return bases;
}

interface Known {
  readonly routes: ReadonlyMap<string, RouteFile>;
  readonly byRoute: ReadonlyMap<string, readonly AnyFile[]>;
  readonly definitions: Definitions;
}

function projectOf(
  route: RouteFile,
  family: readonly RouteFile[],
  { routes, byRoute, definitions }: Known,
): Project {
  const bases = basesOf(route, routes);
  const chain = [route, ...bases];
  const techniques = new Map<string, Defined<Technique>>();
  for (const { uri, document } of chain) {
    for (const technique of document.techniques) {
      if (!techniques.has(technique.id)) techniques.set(technique.id, definitions.technique(technique, uri));
    }
  }
  const renamed = new Map<string, string>();
  for (const { id, was } of techniques.values()) {
    for (const former of was)
      if (!techniques.has(former.id) && !renamed.has(former.id)) renamed.set(former.id, id);
  }
  // A route that writes no segments of its own is run along those it extends.
  const owner = chain.find(({ document }) => document.segments.length > 0) ?? route;
  const own = byRoute.get(route.uri) ?? [];
  const shared = family.flatMap(({ uri }) => byRoute.get(uri) ?? []);
  return {
    route,
    bases,
    practice: shared.filter((file) => file.kind === 'practice'),
    runs: own.filter((file) => file.kind === 'runs'),
    weeks: own.filter((file) => file.kind === 'week'),
    segments: owner.document.segments.map((segment) => definitions.segment(segment, owner.uri)),
    techniques,
    renamed,
  };
}
