import { poolInUse } from '../../queries/poolInUse.ts';
import { ownPools } from '../../workspace/groupFiles.ts';
import type { PoolFile } from '../../workspace/project.ts';
import type { LookupContext } from './lookupContext.ts';

/**
 * The pool whose content a rule looks at: the one that counts, in the project whose own route it names. Of a pool that
 * is not used, that alone is said.
 */
export function poolToCheck({ project }: Pick<LookupContext, 'project'>): PoolFile | undefined {
  const pool = poolInUse(project);
  return pool && ownPools(project).includes(pool) ? pool : undefined;
}
