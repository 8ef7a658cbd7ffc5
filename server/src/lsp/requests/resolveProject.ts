import { fileKindOf } from '../../files/fileKind.ts';
import type { Technique } from '../../files/documents/documents.ts';
import { isRefusal, type Refusal } from '../../protocol/refusal.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { shortened } from '../../text/format.ts';
import { currentTechniqueId, type Project, type ProjectFile, type WithUri } from '../../workspace/project.ts';
import { tooLargeMessage } from '../../queries/modelLimits.ts';
import { whoseLogsText } from '../../queries/whoseLogs.ts';
import { runnerFilesOf, type AmbiguousRunner, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import { fileAt } from '../documents/fileServices.ts';
import { fileName, normalUri } from '../documents/uris.ts';

/** The project that a file in a request belongs to, and the files of its one runner. */
export interface ResolvedProject {
  readonly project: Project;
  readonly own: RunnerFiles;
}

/** Game and category, as text for people. */
export function routeName({ route }: Project): string {
  const { game, category } = route.document;
  const name = [game, category].filter((part) => part !== undefined).join(', ');
  return sanitizeForTerminal(name) || fileName(route.uri);
}

/** A text about a route, with the runner's name behind it where the route has several: everything shown is one runner's. */
export function withRunner(text: string, { runner, reason }: RunnerFiles): string {
  return runner === undefined || reason === undefined
    ? text
    : `${text}, ${sanitizeForTerminal(shortened(runner))}`;
}

/** The project that a file in a request belongs to, or why it cannot be determined. */
export function projectAt(workspace: Workspace, uri: string): Project | Refusal {
  const file = fileAt(workspace, uri);
  if (!file) {
    const name = fileName(uri);
    return {
      message: fileKindOf(name)
        ? `${sanitizeForTerminal(name)} is not among the files that were read. Open it and ask again.`
        : 'This is not a route, practice, runs, week or pool file. Open one of these and ask again.',
    };
  }
  return workspace.projectOf(file.uri) ?? { message: strayMessage(file) };
}

/** It is not known whose logs count, with the sentence that says so. */
export interface RunnerRefusal extends Refusal {
  readonly whose?: AmbiguousRunner;
}

/** The project and the runner that a file in a request belongs to, or why they cannot be determined. */
export function resolveProject(workspace: Workspace, uri: string): ResolvedProject | RunnerRefusal {
  const project = projectAt(workspace, uri);
  if (isRefusal(project)) return project;
  const own = runnerFilesOf(project);
  if (!('runners' in own)) return { project, own };
  return {
    message: `${sanitizeForTerminal(whoseLogsText(own))} Choose whose logs count, or write runner: into the week file.`,
    whose: own,
  };
}

/** The same for a request that the model answers: a route that is beyond its limits is refused. */
export function resolveForModel(workspace: Workspace, uri: string): ResolvedProject | RunnerRefusal {
  const resolved = resolveProject(workspace, uri);
  if ('message' in resolved) return resolved;
  const message = tooLargeMessage(resolved.project);
  return message === undefined ? resolved : { message };
}

/** A technique of a project, by a request. */
export interface NamedTechnique {
  /** Its id today. */
  readonly id: string;
  /** Its name, as text for people. */
  readonly name: string;
  readonly definition: WithUri<Technique>;
}

/**
 * The technique of a project that a request names, or why there is none.
 *
 * @param technique its id, also a former one
 */
export function techniqueOf(project: Project, technique: string): NamedTechnique | Refusal {
  const id = currentTechniqueId(project, technique);
  const definition = id === undefined ? undefined : project.techniques.get(id);
  if (id === undefined || !definition)
    return { message: `The route has no technique ${sanitizeForTerminal(technique)}.` };
  return { id, name: sanitizeForTerminal(definition.name), definition };
}

/** A technique of a resolved project. */
export interface ResolvedTechnique extends ResolvedProject, NamedTechnique {}

/**
 * The technique that a request names, with its project, or why it cannot be determined.
 *
 * @param technique its id, also a former one
 */
export function resolveTechnique(
  workspace: Workspace,
  uri: string,
  technique: string,
): ResolvedTechnique | Refusal {
  const resolved = resolveProject(workspace, normalUri(uri));
  if ('message' in resolved) return resolved;
  const named = techniqueOf(resolved.project, technique);
  return 'message' in named ? named : { ...resolved, ...named };
}

function strayMessage(file: ProjectFile): string {
  const name = fileName(file.uri);
  const named = file.kind === 'route' ? undefined : file.document.route;
  return named === undefined
    ? `${name} does not say which route it belongs to. Add a line such as route: my.route.yaml at its top.`
    : `${name} belongs to the route ${sanitizeForTerminal(named)}, which is not among the opened files. Mend its route: line or open the folder that holds the route.`;
}
