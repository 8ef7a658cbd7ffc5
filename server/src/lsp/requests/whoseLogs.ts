import { countingLogsText, whoseLogsText } from '../../queries/whoseLogs.ts';
import type { WhoseLogs, WhoseLogsParams, WhoseLogsResult } from '../../protocol/messages/runners.ts';
import { isRefusal } from '../../protocol/refusal.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { shortened } from '../../text/format.ts';
import { folderOf } from '../../workspace/folderOf.ts';
import { relativePath } from '../../workspace/relativePath.ts';
import type { Project } from '../../workspace/project.ts';
import { askedRunnersOf, runnerFilesOf, runnersOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import { normalUri } from '../documents/uris.ts';
import { projectAt } from './resolveProject.ts';

/** With more files than this, a runner's line names the first ones. */
const mostNamed = 4;

type NamedRunner = WhoseLogs['runners'][number];

/** Whose logs count for the route of a file, and who else is named there. */
export function whoseLogsHandler({
  workspace,
}: {
  readonly workspace: Workspace;
}): (params: WhoseLogsParams) => WhoseLogsResult {
  return ({ uri }) => {
    const file = normalUri(uri);
    const project = projectAt(workspace, file);
    if (isRefusal(project)) return project;
    const runners = runnersOf(project).map((runner) => namedRunner(project, runner));
    const own = runnerFilesOf(project);
    const askedRunners = askedRunnersOf(project, (other) => other === file);
    const byFiles = runnerFilesOf({ ...project, askedRunners, chosenRunner: undefined });
    const unknown = 'runners' in own;
    const reason = unknown ? undefined : countingLogsText(own);
    return {
      folder: folderOf(project.route.uri),
      runners: runners.sort((a, b) => weeksOf(project, b) - weeksOf(project, a)),
      byFiles: 'runners' in byFiles ? null : nameOf(project, byFiles),
      counts: unknown ? null : nameOf(project, own),
      reason: reason === undefined ? null : sanitizeForTerminal(reason),
      chosen: project.chosenRunner !== undefined,
      choice: unknown || runners.length > 1,
      problem: unknown ? sanitizeForTerminal(whoseLogsText(own)) : null,
    };
  };
}

function nameOf(project: Project, { runner }: RunnerFiles): NamedRunner | null {
  return runner === undefined ? null : namedRunner(project, runner);
}

function namedRunner({ route, practice, runs, weeks }: Project, runner: string): NamedRunner {
  const uris = [...practice, ...runs, ...weeks].filter(({ document }) => document.runner === runner);
  const byFolder = new Map<string, string[]>();
  for (const { uri } of uris.slice(0, mostNamed)) {
    const [folder, name] = placeOf(route.uri, uri);
    byFolder.set(folder, [...(byFolder.get(folder) ?? []), name]);
  }
  const shown = [...byFolder].map(
    ([folder, names]) => `${folder === '' ? '' : `${folder}: `}${names.join(', ')}`,
  );
  return {
    runner,
    name: sanitizeForTerminal(shortened(runner)),
    files: [...shown, ...(uris.length > mostNamed ? ['…'] : [])].join(', '),
  };
}

/** The folder of a file as seen from its route, empty for the route's own, and the file's name. */
function placeOf(route: string, uri: string): readonly [folder: string, name: string] {
  const path = sanitizeForTerminal(relativePath(route, uri));
  const end = path.lastIndexOf('/');
  return [path.slice(0, Math.max(0, end)), path.slice(end + 1)];
}

/** Runners with a week file come first in a list: most likely the person is one of them. */
function weeksOf({ weeks }: Project, { runner }: NamedRunner): number {
  return weeks.some(({ document }) => document.runner === runner) ? 1 : 0;
}
