import { stemOf } from '../files/fileKind.ts';
import { folderOf } from './folderOf.ts';
import { routeUri } from './groupFiles.ts';
import type { Project } from './project.ts';
import type { RunnerFiles } from './runnerFiles.ts';

/**
 * The beginning of the URI of a new file of a runner, to which an ending such as `.runs.yaml` is added: the route's name in
 * the folder that holds the files of this route that name the runner. Where they lie in several folders, it is the
 * uppermost; where there are none, the route's own.
 */
export function newFileStem({ route }: Project, { practice, runs, week }: RunnerFiles): string {
  const folders = [...practice, ...runs, ...(week ? [week] : [])]
    .filter(
      ({ uri, document }) => document.runner !== undefined && routeUri(uri, document.route) === route.uri,
    )
    .map(({ uri }) => folderOf(uri))
    .sort((a, b) => a.length - b.length || (a < b ? -1 : 1));
  const stem = stemOf(route.uri);
  return `${folders[0] ?? folderOf(route.uri)}${stem.slice(stem.lastIndexOf('/'))}`;
}
