import { knownTechnique, logVocabularyOf } from '../../logging/logVocabulary.ts';
import type { Project } from '../../workspace/project.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';

/**
 * The current ids of techniques that a person wrote by id or by name, or an error about one that the route does not
 * know, or about a name that several have.
 */
export function knownTechniques(
  project: Project,
  written: readonly string[],
  option: string,
): readonly string[] | CliError {
  if (written.length === 0) return [];
  const words = logVocabularyOf(project);
  const ids: string[] = [];
  for (const word of written) {
    const current = knownTechnique(word, words);
    if (typeof current !== 'string') return cliError(`--${option}: ${decapitalized(current.problem)}`);
    ids.push(current);
  }
  return ids;
}

function decapitalized(sentence: string): string {
  return sentence[0]!.toLowerCase() + sentence.slice(1);
}
