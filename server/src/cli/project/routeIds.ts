import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { repositoryOf } from '../../disk/reach.ts';
import { fileKindOf } from '../../files/fileKind.ts';
import { isId } from '../../files/schema/ids.ts';
import { Workspace } from '../../workspace/workspace.ts';
import { uriOf } from '../terminal/paths.ts';
import { FileCollector } from './fileCollector.ts';
import { looksOf } from './looks.ts';

/** The ids that a person may write, sorted, without duplicates. */
export interface RouteIds {
  readonly techniques: readonly string[];
  readonly segments: readonly string[];
}

/**
 * The ids of the routes directly in a folder, with those of the routes that they extend. Logs, weeks and folders below
 * are not read: a shell waits for the answer at each press of Tab. A folder or file that cannot be read has no ids.
 *
 * @param folder absolute path
 */
export async function routeIds(folder: string): Promise<RouteIds> {
  const names = await readdir(folder).catch(() => []);
  const looks = looksOf({});
  const workspace = new Workspace(looks, [uriOf(repositoryOf(folder) ?? folder)]);
  const collector = new FileCollector(workspace, looks);
  for (const name of names.filter((one) => fileKindOf(one) === 'route').sort())
    await collector.readRouteChain(uriOf(join(folder, name)));
  const { projects } = workspace.groups();
  return {
    techniques: sortedOnce(projects.flatMap((project) => [...project.techniques.keys()])),
    segments: sortedOnce(projects.flatMap((project) => project.segments.map(({ id }) => id))),
  };
}

/** Drops words that are not ids: a shell might expand other text in a route file. */
function sortedOnce(words: readonly string[]): string[] {
  return [...new Set(words)].filter(isId).sort();
}
