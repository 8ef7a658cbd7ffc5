import { basename, join, resolve } from 'node:path';
import { fileKindOf } from '../../files/fileKind.ts';
import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { formatList } from '../../text/format.ts';
import { fileName } from '../../workspace/fileName.ts';
import type { Project } from '../../workspace/project.ts';
import { Workspace } from '../../workspace/workspace.ts';
import { FileCollector } from '../project/fileCollector.ts';
import { type Looks, looksOf } from '../project/looks.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { folderOf, pathOf, relativeNames, uriOf } from '../terminal/paths.ts';
import { shellWord } from '../terminal/shellWord.ts';
import type { RouteNames } from './runnersOfLogs.ts';

/** The route that a pool is of. */
export interface PoolRoute {
  /** Without logs. */
  readonly project: Project;
  readonly names: RouteNames;
  /** Whether it is clear beside which file the pool belongs: nobody can say where copies lie in several folders. */
  readonly isOnly: boolean;
}

/** Where a route may be found. */
export interface RouteSearch {
  /** URIs of routes in the folders that were given. */
  readonly listed: readonly string[];
  /** URIs of routes that the logs and pools name. */
  readonly named: readonly string[];
  readonly reach: readonly string[];
  /** What `--route` says: a path, or the name of a route that is found. */
  readonly asked: string | undefined;
  /** What was looked at, for the sentence of an error. */
  readonly where: string;
}

/** The one route that what was given is about; copies of it in several folders must say the same of the techniques. */
export async function choosePoolRoute(search: RouteSearch, io: Io): Promise<PoolRoute | CliError> {
  const looks = looksOf(io);
  const askedPath = search.asked === undefined ? undefined : resolve(io.cwd, search.asked);
  const askedUri =
    askedPath !== undefined && fileKindOf(basename(askedPath)) === 'route' ? uriOf(askedPath) : undefined;
  const reach = [
    ...search.reach,
    ...(askedPath === undefined ? [] : [uriOf(await looks.reach(askedPath, io.cwd))]),
  ];
  const collector = new FileCollector(new Workspace(looks, reach), looks);
  if (askedUri !== undefined && (await isRoute(collector, askedUri))) {
    await readFamily(collector, looks, askedUri);
    return routeAt(collector, askedUri, true);
  }
  const found = await copiesOf(collector, looks, search);
  const chosen = search.asked === undefined ? found : withName(found, basename(search.asked));
  const nameOf = relativeNames(io.cwd);
  const known = formatList([...new Set(found.map(({ uri }) => nameOf(uri)))].slice(0, mostNamed));
  if (search.asked !== undefined && chosen.length === 0) {
    const others = found.length === 0 ? '' : ` In ${search.where} there is ${known}.`;
    return cliError(`There is no route ${search.asked}.${others}`);
  }
  const [first] = chosen;
  if (first === undefined)
    return cliError(
      `There is no route in ${search.where}, and no log there names one that is in reach. Name it: --route FILE.route.yaml`,
    );
  if (new Set(chosen.map(({ uri }) => fileName(uri))).size > 1)
    return cliError(
      `There are several routes: ${known}. Name one: routewright pool --route ${shellWord(nameOf(first.uri))} FOLDER`,
    );
  const different = [...new Map(chosen.map((copy) => [copy.said, copy])).values()];
  if (different.length > 1) {
    const names = formatList(different.slice(0, mostNamed).map(({ uri }) => nameOf(uri)));
    return cliError(
      `The copies of ${fileName(first.uri)} do not say the same of the techniques: ${names}. Say which one counts: --route ${shellWord(nameOf(first.uri))}`,
    );
  }
  await readFamily(collector, looks, first.uri);
  return routeAt(collector, first.uri, chosen.length === 1);
}

/** So many files are named in a sentence. */
const mostNamed = 4;

/** A route file, with all that it says of techniques which matters to a pool. */
interface Copy {
  readonly uri: string;
  readonly said: string;
}

function withName(copies: readonly Copy[], name: string): readonly Copy[] {
  return copies.filter(({ uri }) => fileName(uri) === name);
}

async function isRoute(collector: FileCollector, uri: string): Promise<boolean> {
  await collector.readRouteChain(uri);
  const file = collector.workspace.file(uri);
  return file?.kind === 'route' && file.reading.unread === undefined;
}

/**
 * Reads the routes that there are. Of copies with the same text and name only the first is parsed: a hundred runners may each have
 * a checkout of the same repository.
 */
async function copiesOf(
  collector: FileCollector,
  looks: Pick<Looks, 'read'>,
  { listed, named, reach }: RouteSearch,
): Promise<Copy[]> {
  const { workspace } = collector;
  const copies: Copy[] = [];
  const known = new Map<string, Copy>();
  for (const uri of [...new Set([...listed, ...named])].sort()) {
    if (!workspace.contains(uri)) continue;
    const text = await looks.read(uri, reach);
    if (typeof text !== 'string') continue;
    const same = known.get(`${fileName(uri)}\n${text}`);
    if (same !== undefined) {
      copies.push({ uri, said: same.said });
      continue;
    }
    if (!(await isRoute(collector, uri))) continue;
    const copy = { uri, said: saidOfTechniques(projectAt(collector, uri)) };
    copies.push(copy);
    // What a route takes over from another one is not in its text.
    if (!text.includes('extends')) known.set(`${fileName(uri)}\n${text}`, copy);
  }
  return copies;
}

/** All that a pool depends on, as text. */
function saidOfTechniques({ techniques }: Project): string {
  return JSON.stringify(
    [...techniques.values()].map(({ id, difficulty, practice: { attempt, reload }, was }) => [
      id,
      difficulty,
      attempt,
      reload,
      was.map((former) => former.id),
    ]),
  );
}

/** Reads the routes beside a route: some may share techniques with it. */
async function readFamily(collector: FileCollector, looks: Looks, uri: string): Promise<void> {
  const folder = pathOf(folderOf(uri));
  for (const name of await looks.siblings(folder))
    if (fileKindOf(name) === 'route') await collector.readRouteChain(uriOf(join(folder, name)));
}

function projectAt({ workspace }: FileCollector, uri: string): Project {
  return workspace.groups().projects.find(({ route }) => route.uri === uri)!;
}

function routeAt(collector: FileCollector, uri: string, isOnly: boolean): PoolRoute | CliError {
  const project = projectAt(collector, uri);
  const tooLarge = tooLargeMessage(project);
  if (tooLarge !== undefined) return cliError(tooLarge);
  const rootOf = ({ route, bases }: Project): string => (bases.at(-1) ?? route).uri;
  const root = rootOf(project);
  const family = collector.workspace.groups().projects.filter((other) => rootOf(other) === root);
  const name = fileName(uri);
  return {
    project,
    names: { route: name, family: new Set([name, ...family.map(({ route }) => fileName(route.uri))]) },
    isOnly,
  };
}
