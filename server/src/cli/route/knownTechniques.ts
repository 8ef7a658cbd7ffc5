import { closestWord } from '../../text/closestWord.ts';
import type { Project } from '../../workspace/project.ts';
import { currentTechniqueId } from '../../workspace/project.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';

/** The current ids of techniques that a person wrote, or an error about one that the route does not know. */
export function knownTechniques(
  project: Project,
  written: readonly string[],
  option: string,
): readonly string[] | CliError {
  const ids: string[] = [];
  for (const id of written) {
    const current = currentTechniqueId(project, id);
    if (current === undefined) {
      const suggestion = closestWord(id, [...project.techniques.keys()]);
      const hint = suggestion ? ` Did you mean ${suggestion}?` : '';
      return cliError(`--${option}: the route has no technique ${id}.${hint}`);
    }
    ids.push(current);
  }
  return ids;
}
