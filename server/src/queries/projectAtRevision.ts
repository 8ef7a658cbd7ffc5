import { routeUri } from '../workspace/groupFiles.ts';
import type { Project } from '../workspace/project.ts';
import { memoryFileSource } from '../workspace/fileSource.ts';
import { Workspace } from '../workspace/workspace.ts';

/** A route as it was, or why it cannot be had. */
export type ProjectAtRevision = { readonly project: Project } | { readonly message: string };

/** A route file's text as it was; why there is none, where it cannot be had. */
export type ReadTextAtRevision = (
  uri: string,
) => Promise<{ readonly text: string } | { readonly message: string }>;

/** Most routes that are followed along `extends`. */
const maxBases = 20;

/**
 * A route, with those it extends, from earlier texts of the files.
 *
 * @param today the same route as it is now, whose logs and week are taken over; left out where there is none
 */
export async function projectAtRevision(
  uri: string,
  textOf: ReadTextAtRevision,
  today?: Project,
): Promise<ProjectAtRevision> {
  const workspace = new Workspace(memoryFileSource({}));
  let next: string | undefined = uri;
  const seen = new Set<string>();
  while (next !== undefined && !seen.has(next) && seen.size < maxBases) {
    seen.add(next);
    const found = await textOf(next);
    if ('message' in found) {
      if (next === uri) return found;
      break; // a base that is missing is missing, as in any route
    }
    workspace.edit(next, found.text);
    const file = workspace.file(next);
    next = file?.kind === 'route' ? routeUri(next, file.document.extends) : undefined;
  }
  const project = workspace.groups().projects.find(({ route }) => route.uri === uri);
  if (!project) return { message: 'There is no route in that file.' };
  return { project: today === undefined ? project : withLogsOf(project, today) };
}

/**
 * A route with another's logs and week. Where the other knows a technique by a newer name, that name leads to the
 * former one.
 */
export function withLogsOf(project: Project, other: Project): Project {
  const renamed = new Map(project.renamed);
  for (const [former, id] of other.renamed)
    if (project.techniques.has(former) && !project.techniques.has(id) && !renamed.has(id))
      renamed.set(id, former);
  const { practice, runs, weeks } = other;
  return { ...project, practice, runs, weeks, renamed };
}
