import { URI, Utils } from 'vscode-uri';
import type { Segment, Technique } from '../files/documents/documents.ts';
import {
  mapIncremental,
  findChangedRange,
  sameItems,
  type MappedList,
} from '../incremental/mapIncremental.ts';
import { OrderedIdMap } from '../incremental/orderedIdMap.ts';
import { folderOf } from './folderOf.ts';
import type { PoolFile, ProjectFile, WithUri, Project, RouteFile, Stray } from './project.ts';

export interface GroupedFiles {
  readonly projects: readonly Project[];
  readonly strays: readonly Stray[];
}

/**
 * The entries of routes, each with the URI of its file. An entry that did not change keeps its object, and a list whose
 * entries did not change is the same list.
 */
export class DefinitionCache {
  private readonly segments = new Map<string, MappedList<Segment, WithUri<Segment>>>();
  private readonly techniques = new Map<string, MappedList<Technique, WithUri<Technique>>>();
  private readonly techniqueIndexes = new Map<string, TechniqueIndex>();

  segmentsOf({ uri, document }: RouteFile): readonly WithUri<Segment>[] {
    return entriesWithUri(this.segments, uri, document.segments);
  }

  /** @param chain a route and those that it extends, nearest first */
  techniquesOf(chain: readonly RouteFile[]): TechniqueIndex {
    const lists = chain.map(({ uri, document }) => entriesWithUri(this.techniques, uri, document.techniques));
    const { uri } = chain[0]!;
    const before = this.techniqueIndexes.get(uri);
    const named =
      before && sameItems(before.lists, lists)
        ? before
        : (updateTechniqueIndex(before, lists) ?? indexTechniques(lists));
    this.techniqueIndexes.set(uri, named);
    return named;
  }

  /** Forgets all other routes. */
  keepOnly(routes: ReadonlyMap<string, unknown>): void {
    for (const map of [this.segments, this.techniques, this.techniqueIndexes])
      for (const uri of map.keys()) if (!routes.has(uri)) map.delete(uri);
  }
}

/** The techniques of a route and of those it extends, by id. */
interface TechniqueIndex extends Pick<Project, 'techniques' | 'ownTechniques' | 'renamed'> {
  /** The lists that the index was built from. */
  readonly lists: readonly (readonly WithUri<Technique>[])[];
}

function indexTechniques(lists: TechniqueIndex['lists']): TechniqueIndex {
  const [ownTechniques = []] = lists;
  const techniques = OrderedIdMap.fromLists(lists);
  const renamed = new Map<string, string>();
  for (const { id, was } of techniques.list) {
    for (const former of was)
      if (!techniques.has(former.id) && !renamed.has(former.id)) renamed.set(former.id, id);
  }
  return { lists, techniques, ownTechniques, renamed };
}

/** The index after a change of one list only, without a change of ids; undefined where more has changed. */
function updateTechniqueIndex(
  before: TechniqueIndex | undefined,
  lists: TechniqueIndex['lists'],
): TechniqueIndex | undefined {
  const [list] = lists;
  if (!before || !list || lists.length > 1 || before.techniques.list !== before.lists[0]) return undefined;
  const { start: from, oldEnd: was, newEnd: is } = findChangedRange(before.techniques.list, list);
  const fresh = list.slice(from, is);
  const gone = before.techniques.list.slice(from, was);
  if (fresh.length !== gone.length || !fresh.every((one, at) => sameNames(one, gone[at]!))) return undefined;
  return { ...before, lists, techniques: before.techniques.withList(list), ownTechniques: list };
}

function sameNames(a: Technique, b: Technique): boolean {
  const former = ({ was }: Technique): readonly string[] => was.map(({ id }) => id);
  return a.id === b.id && sameItems(former(a), former(b));
}

function entriesWithUri<T extends object>(
  map: Map<string, MappedList<T, WithUri<T>>>,
  uri: string,
  list: readonly T[],
): readonly WithUri<T>[] {
  const mapped = mapIncremental(map.get(uri), list, (entry): WithUri<T> => ({ ...entry, uri }));
  map.set(uri, mapped);
  return mapped.outputs;
}

/**
 * Puts files together: each route with the logs, weeks and pools that name it.
 *
 * @param files all known files by URI
 * @param inside whether a URI lies in the folders that the user opened
 * @param definitions keeps the entries of routes between calls
 * @param chosenRunners by the URI of a route's folder: the runner whose logs count there
 */
export function groupFiles(
  files: ReadonlyMap<string, ProjectFile>,
  inside: (uri: string) => boolean,
  definitions = new DefinitionCache(),
  chosenRunners: ReadonlyMap<string, string> = new Map(),
): GroupedFiles {
  const routes = new Map<string, RouteFile>();
  for (const file of files.values()) if (file.kind === 'route') routes.set(file.uri, file);

  const strays: Stray[] = [];
  const byRoute = new Map<string, ProjectFile[]>();
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
    const root = baseRoutesOf(route, routes).at(-1) ?? route;
    families.set(root.uri, [...(families.get(root.uri) ?? []), route]);
  }
  const projects = [...families.values()].flatMap((family) =>
    family.map((route) => buildProject(route, family, { routes, byRoute, definitions, chosenRunners })),
  );
  projects.sort((a, b) => (a.route.uri < b.route.uri ? -1 : 1));
  return { projects, strays };
}

/** URI of a route that a file names by a path relative to itself. */
export function routeUri(from: string, written: string | undefined): string | undefined {
  if (written === undefined) return undefined;
  // A path that begins with several slashes would name a host; a path in a file must not do that.
  const clean = written.replaceAll('\\', '/').replace(/^\/{2,}/, '/');
  return clean.startsWith('/')
    ? URI.parse(from).with({ path: clean }).toString()
    : Utils.resolvePath(Utils.dirname(URI.parse(from)), clean).toString();
}

/** The routes a route extends, nearest first; a loop ends where it began. */
function baseRoutesOf(route: RouteFile, routes: ReadonlyMap<string, RouteFile>): RouteFile[] {
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

interface GroupingContext {
  readonly routes: ReadonlyMap<string, RouteFile>;
  readonly byRoute: ReadonlyMap<string, readonly ProjectFile[]>;
  readonly definitions: DefinitionCache;
  readonly chosenRunners: ReadonlyMap<string, string>;
}

function buildProject(
  route: RouteFile,
  family: readonly RouteFile[],
  { routes, byRoute, definitions, chosenRunners }: GroupingContext,
): Project {
  const bases = baseRoutesOf(route, routes);
  const chain = [route, ...bases];
  const { techniques, ownTechniques, renamed } = definitions.techniquesOf(chain);
  // A route without segments of its own has the segments of the nearest route that it extends.
  const owner = chain.find(({ document }) => document.segments.length > 0) ?? route;
  const own = byRoute.get(route.uri) ?? [];
  const shared = family.flatMap(({ uri }) => byRoute.get(uri) ?? []);
  return {
    route,
    bases,
    practice: shared.filter((file) => file.kind === 'practice'),
    runs: own.filter((file) => file.kind === 'runs'),
    weeks: own.filter((file) => file.kind === 'week'),
    pools: poolsOf(chain, byRoute),
    segments: definitions.segmentsOf(owner),
    techniques,
    ownTechniques,
    renamed,
    chosenRunner: chosenRunners.size === 0 ? undefined : chosenRunners.get(folderOf(route.uri)),
  };
}

/** The pools of the first route that has any: those of a route that is extended count where it has none of its own. */
function poolsOf(
  chain: readonly RouteFile[],
  byRoute: ReadonlyMap<string, readonly ProjectFile[]>,
): readonly PoolFile[] {
  for (const { uri } of chain) {
    const pools = byRoute.get(uri)?.filter((file) => file.kind === 'pool') ?? [];
    if (pools.length > 0) return pools;
  }
  return [];
}

/** The pools that name a project's own route, not one that it extends. */
export function ownPools({ route, pools }: Project): readonly PoolFile[] {
  return pools.filter(({ uri, document }) => routeUri(uri, document.route) === route.uri);
}
