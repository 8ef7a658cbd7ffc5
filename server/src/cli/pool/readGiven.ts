import { formatCount } from '../../text/format.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import { looksOf } from '../project/looks.ts';
import { cliError, type CliError, isCliError } from '../terminal/cliError.ts';
import { type Io, printNotice } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';
import { gatherFiles, type GatheredFiles } from './gatherFiles.ts';
import { type ReadPool, readPool } from './givenPools.ts';
import { choosePoolRoute, type PoolRoute } from './poolRoute.ts';
import { type LoggedRunners, runnersOfLogs } from './runnersOfLogs.ts';

/** What a person gives, as written. */
export interface Given {
  /** Folders and pools. */
  readonly paths: readonly string[];
  readonly route: string | undefined;
  /** Whether a pool is to be written: then earlier versions of it matter, too. */
  readonly writes: boolean;
}

/** The route, and all that may count for it. */
export interface ReadGiven extends LoggedRunners {
  readonly files: GatheredFiles;
  readonly route: PoolRoute;
  /** Those that were given. */
  readonly pools: readonly ReadPool[];
  /** Those of the route that lie in the folders; none where none matters. */
  readonly nearPools: readonly ReadPool[];
}

/**
 * Reads what a person gave, as far as it says whose it is and of which route.
 *
 * @param show is told what is read now, in half a sentence
 */
export async function readGiven(
  { paths, route: asked, writes }: Given,
  io: Io,
  show: (what: string) => void,
): Promise<ReadGiven | CliError> {
  const files = await gatherFiles(io, paths, show);
  if (isCliError(files)) return files;
  const { logs, reach } = files;
  const pools = await readPools(files.pools, reach, io);
  const named = [
    ...logs.map(({ route }) => route),
    ...pools.flatMap(({ uri, document }) => routeUri(uri, document.route) ?? []),
  ];
  const where = paths.join(', ') || 'this folder';
  const route = await choosePoolRoute({ listed: files.routes, named, reach, asked, where }, io);
  if (isCliError(route)) return route;
  const { problems } = route.project.route.reading;
  const nameOf = relativeNames(io.cwd);
  if (problems.length > 0)
    printNotice(
      io,
      `${formatCount(problems.length, 'error')} in ${nameOf(route.project.route.uri)}: what ${concern(problems.length)} may be missing. routewright check says where.`,
    );
  const other = pools.find(({ routeName }) => routeName !== undefined && routeName !== route.names.route);
  if (other !== undefined)
    return cliError(
      `${nameOf(other.uri)} is the pool of ${other.routeName!}, and not of ${route.names.route}. What is added up must be of one route.`,
    );
  const near = writes ? await readPools(files.nearPools, reach, io) : [];
  return {
    ...runnersOfLogs(logs, route.names),
    files,
    route,
    pools,
    nearPools: near.filter(({ routeName }) => routeName === route.names.route),
  };
}

async function readPools(uris: readonly string[], reach: readonly string[], io: Io): Promise<ReadPool[]> {
  const looks = looksOf(io);
  const pools: ReadPool[] = [];
  for (const uri of uris) {
    const pool = await readPool(looks, uri, reach);
    if (pool !== undefined) pools.push(pool);
  }
  return pools;
}

/** The words after `what` in a sentence about so many errors. */
export function concern(errors: number): string {
  return errors === 1 ? 'it concerns' : 'they concern';
}
