import { whoseLogsText } from '../../queries/whoseLogs.ts';
import type { WhoseLogs, WhoseLogsParams, WhoseLogsResult } from '../../protocol/messages/runners.ts';
import { isRefusal } from '../../protocol/refusal.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import { shortened } from '../../text/format.ts';
import { folderOf } from '../../workspace/folderOf.ts';
import type { Project } from '../../workspace/project.ts';
import { runnerFilesOf, runnersOf } from '../../workspace/runnerFiles.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import { fileName, normalUri } from '../documents/uris.ts';
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
    const project = projectAt(workspace, normalUri(uri));
    if (isRefusal(project)) return project;
    const runners = runnersOf(project).map((runner) => namedRunner(project, runner));
    const own = runnerFilesOf(project);
    const byFiles = runnerFilesOf({ ...project, chosenRunner: undefined });
    const unknown = 'runners' in own;
    return {
      folder: folderOf(project.route.uri),
      runners: runners.sort((a, b) => weeksOf(project, b) - weeksOf(project, a)),
      byFiles: 'runners' in byFiles ? null : (byFiles.runner ?? null),
      counts: unknown || own.runner === undefined ? null : namedRunner(project, own.runner),
      choice: unknown || runners.length > 1,
      problem: unknown ? sanitizeForTerminal(whoseLogsText(own)) : null,
    };
  };
}

function namedRunner({ practice, runs, weeks }: Project, runner: string): NamedRunner {
  const names = [...practice, ...runs, ...weeks]
    .filter(({ document }) => document.runner === runner)
    .map(({ uri }) => sanitizeForTerminal(fileName(uri)));
  const shown = names.length > mostNamed ? [...names.slice(0, mostNamed), '…'] : names;
  return { runner, name: sanitizeForTerminal(shortened(runner)), files: shown.join(', ') };
}

/** Runners with a week file come first in a list: most likely the person is one of them. */
function weeksOf({ weeks }: Project, { runner }: NamedRunner): number {
  return weeks.some(({ document }) => document.runner === runner) ? 1 : 0;
}
