import { basename, join, resolve } from 'node:path';
import { systemReason } from '../../disk/systemReason.ts';
import { fileKindOf } from '../../files/fileKind.ts';
import { readHeader } from '../../files/reading/header.ts';
import { isUnread, unreadProblem } from '../../files/reading/unread.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import { type Looks, looksOf } from '../project/looks.ts';
import { readAhead } from '../project/readAhead.ts';
import { cliError, type CliError, isCliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { uriOf } from '../terminal/paths.ts';
import type { RunnerFile, UnreadFile } from './runnerTask.ts';

/** A log or a week file, and what it says of itself. */
export interface LogFile extends RunnerFile {
  /** URI of the route that it names. */
  readonly route: string;
  readonly runner: string | undefined;
}

/** What a person gave, sorted out. Every file stands for its URI. */
export interface GatheredFiles {
  readonly logs: readonly LogFile[];
  /** Logs and weeks that name no route. */
  readonly nameless: readonly string[];
  /** Routes in the folders. */
  readonly routes: readonly string[];
  /** Pools that were given themselves. */
  readonly pools: readonly string[];
  /** Pools in the folders, which nobody gave. */
  readonly nearPools: readonly string[];
  /** Folders that what is read must be in. */
  readonly reach: readonly string[];
  readonly unread: readonly UnreadFile[];
  /** Whether the search for files ended before it had seen all that it should. */
  readonly cutShort: boolean;
}

/**
 * Finds the logs, routes and pools that a person gave. Of each log only what it says of itself is kept.
 *
 * @param paths folders and pools, as written; none means what is near the current folder
 * @param show is told what is read now, in half a sentence
 */
export async function gatherFiles(
  io: Pick<Io, 'cwd' | 'looked'>,
  paths: readonly string[],
  show: (what: string) => void,
): Promise<GatheredFiles | CliError> {
  const looks = looksOf(io);
  const listed = new Set<string>();
  const pools = new Set<string>();
  const reach = new Set<string>();
  let cutShort = false;
  if (paths.length === 0) {
    show('Looking for logs');
    const nearby = await looks.nearby(io.cwd);
    cutShort = nearby.cutShort;
    reach.add(uriOf(nearby.folder));
    for (const path of nearby.paths) listed.add(uriOf(path));
  }
  for (const written of paths) {
    const path = resolve(io.cwd, written);
    const kind = await kindOfGiven(looks, path, written);
    if (isCliError(kind)) return kind;
    if (kind === 'pool') {
      pools.add(uriOf(path));
      reach.add(uriOf(await looks.reach(path, io.cwd)));
      continue;
    }
    show(`Looking through ${written}`);
    const found = await looks.list(uriOf(path));
    const holdsRoute = found.some((uri) => fileKindOf(uri) === 'route');
    // The folder of one runner: the route of its files lies elsewhere in its repository.
    reach.add(uriOf(holdsRoute ? path : await looks.reach(join(path, 'any'), path)));
    for (const uri of found) listed.add(uri);
  }
  const ofKind = (kind: string): string[] => [...listed].filter((uri) => fileKindOf(uri) === kind).sort();
  const files = [...listed]
    .flatMap((uri): RunnerFile[] => {
      const kind = fileKindOf(uri);
      return kind === 'practice' || kind === 'runs' || kind === 'week' ? [{ uri, kind }] : [];
    })
    .sort((a, b) => (a.uri < b.uri ? -1 : 1));
  return {
    ...(await readHeaders(looks, files, [...reach], show)),
    routes: ofKind('route'),
    pools: [...pools].sort(),
    nearPools: ofKind('pool').filter((uri) => !pools.has(uri)),
    reach: [...reach].sort(),
    cutShort,
  };
}

async function kindOfGiven(
  looks: Looks,
  path: string,
  written: string,
): Promise<'folder' | 'pool' | CliError> {
  try {
    if ((await looks.kind(path)) === 'folder') return 'folder';
  } catch (error) {
    return cliError(`${written} cannot be read: ${systemReason(error)}.`);
  }
  if (fileKindOf(basename(path)) === 'pool') return 'pool';
  return cliError(
    `${written} is neither a folder nor a pool. Name the folders that hold the logs, or files that end in .pool.yaml; --route names the route.`,
  );
}

async function readHeaders(
  source: FileSource,
  files: readonly RunnerFile[],
  within: readonly string[],
  show: (what: string) => void,
): Promise<Pick<GatheredFiles, 'logs' | 'nameless' | 'unread'>> {
  const logs: LogFile[] = [];
  const nameless: string[] = [];
  const unread: UnreadFile[] = [];
  const ahead = readAhead(
    source,
    files.map(({ uri }) => uri),
  );
  for (const [index, { uri, kind }] of files.entries()) {
    show(`Looking at file ${index + 1} of ${files.length}`);
    const text = await ahead.read(uri, within);
    if (text === undefined) continue;
    if (isUnread(text)) {
      unread.push({ uri, message: unreadProblem(text).message });
      continue;
    }
    const { route: written, runner } = readHeader(kind, text);
    const route = routeUri(uri, written);
    if (route === undefined) nameless.push(uri);
    else logs.push({ uri, kind, route, runner });
  }
  return { logs, nameless, unread };
}
