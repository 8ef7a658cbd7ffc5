import { firstUnreadProblem } from '../../files/reading/fullyRead.ts';
import type { PanelData } from '../../protocol/panel/panelData.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { Project, ProjectFile } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { fileName } from '../documents/uris.ts';

type File = Pick<ProjectFile, 'uri' | 'reading'>;

/**
 * The first place where text cannot be read in the files that an answer rests on; null where all was read. What stands
 * behind such a place may mean anything, so that nothing is to be said of the route until it is mended.
 */
export function brokenText({ positions }: FileServices, files: readonly File[]): PanelData['broken'] {
  for (const { uri, reading } of files) {
    const problem = firstUnreadProblem(reading);
    if (problem === undefined) continue;
    const place = positions.location(uri, { start: problem.start, end: problem.start });
    const line = place.range.start.line + 1;
    const name = sanitizeForTerminal(fileName(uri));
    return {
      text: `Line ${line} of ${name} cannot be read: ${sanitizeForTerminal(problem.message)}`,
      way: `Go to line ${line}`,
      place,
    };
  }
  return null;
}

/** The files that an answer about a runner rests on. */
export function filesBehind({ route, bases }: Project, { week, practice, runs }: RunnerFiles): File[] {
  return [route, ...bases, ...(week ? [week] : []), ...practice, ...runs];
}
