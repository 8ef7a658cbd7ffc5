import { basename, resolve } from 'node:path';
import { fileKindOf, stemOf } from '../../files/fileKind.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';
import type { Io } from '../terminal/io.ts';
import { pathOf, relativeNames, uriOf } from '../terminal/paths.ts';
import { shellWord } from '../terminal/shellWord.ts';
import type { PoolRoute } from './poolRoute.ts';

/** The file that a pool is written into. */
export interface PoolTarget {
  /** Absolute. */
  readonly path: string;
  /** The same for people. */
  readonly shown: string;
}

/**
 * The file that a pool is written into: the one that is named, else the one that belongs beside the route.
 *
 * @param write whether it is to be written beside the route
 */
export function poolTarget(
  { project, isOnly }: PoolRoute,
  { output, write }: { readonly output: string | undefined; readonly write: boolean },
  { cwd }: Pick<Io, 'cwd'>,
): PoolTarget | CliError {
  const nameOf = relativeNames(cwd);
  if (output !== undefined) {
    const path = resolve(cwd, output);
    if (fileKindOf(basename(path)) !== 'pool')
      return cliError(`--output needs a name that ends in .pool.yaml, not ${output}.`);
    return { path, shown: output };
  }
  const { uri } = project.route;
  if (write && !isOnly)
    return cliError(
      `There are several copies of ${basename(pathOf(uri))}. Say beside which one to write: --route ${shellWord(nameOf(uri))}`,
    );
  const path = `${stemOf(pathOf(uri))}.pool.yaml`;
  return { path, shown: nameOf(uriOf(path)) };
}
