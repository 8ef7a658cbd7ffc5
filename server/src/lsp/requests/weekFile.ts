import { scalarToYaml } from '../../files/edit/flowYaml.ts';
import { stemOf } from '../../files/fileKind.ts';
import { newFileEdit, type FileEditResult } from '../../protocol/fileEdit.ts';
import type { Project } from '../../workspace/project.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { fileName } from '../documents/uris.ts';

/**
 * The edit that creates a week file of a route.
 *
 * @param lines the content below the lines that name its route and its runner
 * @param done what the new file contains, as the end of a sentence that begins with the file's name
 */
export async function newWeekFile(
  needs: FileServices,
  { route }: Project,
  runner: string | undefined,
  lines: readonly string[],
  done: (name: string) => string,
): Promise<FileEditResult> {
  const uri = await freeWeekFileUri(needs, stemOf(route.uri));
  if (uri === undefined) return { message: 'There is no free name for a week file beside the route.' };
  const text = [...headerOf(fileName(route.uri), runner), ...lines].join('\n');
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
