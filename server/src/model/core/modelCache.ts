import { MemoCache } from '../../incremental/memoCache.ts';

/**
 * Results of the model for one route. The caller keeps this cache between calls, so that after a new block of
 * practice only the results that depend on that block are computed again. It has one `MemoCache` for the values
 * shared by all techniques and one for each technique. Results are the same with and without the cache, to the last
 * digit.
 */
export class ModelCache {
  /** Values that depend on more than one technique. */
  readonly shared: MemoCache;
  private readonly byTechnique: Map<string, MemoCache>;

  constructor(shared = new MemoCache(), byTechnique: ReadonlyMap<string, MemoCache> = new Map()) {
    this.shared = shared;
    this.byTechnique = new Map(byTechnique);
  }

  /** The cache of one technique. Creates an empty one at the first call. */
  forTechnique(technique: string): MemoCache {
    const existing = this.byTechnique.get(technique);
    if (existing !== undefined) return existing;
    const empty = new MemoCache();
    this.byTechnique.set(technique, empty);
    return empty;
  }

  /** Deletes the caches of all techniques except these. */
  keepOnly(techniques: ReadonlySet<string>): void {
    for (const id of [...this.byTechnique.keys()]) if (!techniques.has(id)) this.byTechnique.delete(id);
  }

  /** A new cache with the same values. Later changes to one do not affect the other. */
  copy(): ModelCache {
    return new ModelCache(
      this.shared.copy(),
      new Map([...this.byTechnique].map(([id, cache]) => [id, cache.copy()])),
    );
  }
}
