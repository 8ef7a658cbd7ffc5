import { scalarToYaml } from '../../files/edit/flowYaml.ts';
import { newFileEdit, type FileEditResult } from '../../protocol/fileEdit.ts';
import type { Project } from '../../workspace/project.ts';
import { relativePath } from '../../workspace/relativePath.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { newFileStem } from '../../workspace/runnerFolder.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { fileName } from '../documents/uris.ts';

/**
 * The edit that creates a week file of a route for a runner.
 *
 * @param own the runner's own files of the project
 * @param lines the content below the lines that name its route and its runner
 * @param done what the new file contains, as the end of a sentence that begins with the file's name
 */
export async function newWeekFile(
  needs: FileServices,
  project: Project,
  own: RunnerFiles,
  lines: readonly string[],
  done: (name: string) => string,
): Promise<FileEditResult> {
  const uri = await freeWeekFileUri(needs, newFileStem(project, own));
  if (uri === undefined) return { message: 'There is no free name for a week file of this route.' };
  const text = [...headerOf(relativePath(uri, project.route.uri), own.runner), ...lines].join('\n');
  return {
    edit: newFileEdit(uri, `${text}\n`),
    message: `There is no week file for this route yet. ${done(fileName(uri))}`,
  };
}

/** The first lines of a new week file: its route and its runner. */
function headerOf(route: string, runner: string | undefined): string[] {
  return [
    `route: ${scalarToYaml(route)}`,
    ...(runner === undefined ? [] : [`runner: ${scalarToYaml(runner)}`]),
  ];
}

/** A name for a week file that no file has yet, neither in the workspace nor on the disk. */
async function freeWeekFileUri({ workspace }: FileServices, stem: string): Promise<string | undefined> {
  for (const ending of ['.week.yaml', '-2.week.yaml', '-3.week.yaml', '-4.week.yaml']) {
    const uri = `${stem}${ending}`;
    if (!workspace.file(uri) && (await workspace.read(uri)) === undefined) return uri;
  }
  return undefined;
}
