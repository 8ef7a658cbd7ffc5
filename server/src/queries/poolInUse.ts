/** Which pool of a project counts, and what it says of the route's techniques. */
import type { TechniqueInPool } from '../files/documents/documents.ts';
import { overstatedTechniques } from './overstatedInPool.ts';
import { poolVersion } from '../model/pool/poolVersion.ts';
import { currentTechniqueId, type PoolFile, type Project } from '../workspace/project.ts';

/** Whether a pool's numbers belong to other curves than those of this model: then nothing of it is used. */
export function isOfOtherCurves({ document: { model } }: PoolFile): boolean {
  return model !== poolVersion;
}

/**
 * The pool that counts in a project: of those of this model's curves the one of most runners. Two cannot be added up here,
 * since the same runner may be in both. It counts on every day, as the route does: what others found out is no entry
 * of the runner's own.
 *
 * @returns undefined where there is none
 */
export function poolInUse({ pools }: Pick<Project, 'pools'>): PoolFile | undefined {
  return pools.filter((pool) => !isOfOtherCurves(pool)).sort(byWeight)[0];
}

/** Most runners first, then the later day, then by name. */
function byWeight(a: PoolFile, b: PoolFile): number {
  return (
    b.document.runners.length - a.document.runners.length ||
    (b.document.day?.date ?? -Infinity) - (a.document.day?.date ?? -Infinity) ||
    (a.uri < b.uri ? -1 : 1)
  );
}

/**
 * What a pool says of the route's techniques, by their ids of today. An entry under a former id counts where the pool
 * has none under the id of today, and one of a technique that the route does not have counts nowhere.
 *
 * What more is said of than so many runners can say counts nowhere, either.
 *
 * @returns the document's own objects, in its order
 */
export function pooledTechniques(project: Project, pool: PoolFile): ReadonlyMap<string, TechniqueInPool> {
  const found = new Map<string, TechniqueInPool>();
  const overstated = new Set(overstatedTechniques(pool.document));
  for (const pooled of pool.document.techniques) {
    if (overstated.has(pooled)) continue;
    const id = currentTechniqueId(project, pooled.id);
    if (id !== undefined && (id === pooled.id || !found.has(id))) found.set(id, pooled);
  }
  return found;
}

/** What a pool says of a technique of the route, with the rating of today. */
export interface RatedInPool {
  readonly id: string;
  readonly difficulty: number;
  readonly pooled: TechniqueInPool;
}

/** What a pool says of the route's techniques, in its order, each with its rating of today. */
export function ratedInPool(project: Project, pool: PoolFile): RatedInPool[] {
  return [...pooledTechniques(project, pool)].flatMap(([id, pooled]) => {
    const technique = project.techniques.get(id);
    return technique === undefined ? [] : [{ id, difficulty: technique.difficulty, pooled }];
  });
}
