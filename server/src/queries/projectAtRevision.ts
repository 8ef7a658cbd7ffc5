import { routeUri } from '../workspace/groupFiles.ts';
import type { Project } from '../workspace/project.ts';
import { memoryFileSource } from '../workspace/fileSource.ts';
import { Workspace } from '../workspace/workspace.ts';

/** An earlier version of a route, or the reason why it cannot be read. */
export type ProjectAtRevision = { readonly project: Project } | { readonly message: string };

/** Reads an earlier text of a route file; where that fails, gives the reason. */
export type ReadTextAtRevision = (
  uri: string,
) => Promise<{ readonly text: string } | { readonly message: string }>;

/** At most so many routes are followed along `extends`. */
const maxBases = 20;

/**
 * A route, with those it extends, from earlier texts of the files.
 *
 * @param today the route of today, whose logs and week file are used; left out where there is none
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
      break; // a base that cannot be read is left out, as in any route
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
 * A route with the logs, week file and pool of another project, and the runner chosen there. Where that project has a newer id for a technique, the newer
 * id leads to this route's id.
 */
export function withLogsOf(project: Project, other: Project): Project {
  const renamed = new Map(project.renamed);
  for (const [former, id] of other.renamed)
    if (project.techniques.has(former) && !project.techniques.has(id) && !renamed.has(id))
      renamed.set(id, former);
  const { practice, runs, weeks, pools, chosenRunner, askedRunners } = other;
  return { ...project, practice, runs, weeks, pools, renamed, chosenRunner, askedRunners };
}
