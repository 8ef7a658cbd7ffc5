import { MemoCache } from '../../incremental/memoCache.ts';

/**
 * What the model worked out for one route, kept by the caller from one answer to the next: after a new block of
 * practice only what that block touches is worked out again. It has one `MemoCache` for what all techniques share and
 * one for each technique. An answer is the same with it and without it, to the last digit.
 */
export class ModelCache {
  /** What all techniques have in common. */
  readonly shared: MemoCache;
  private readonly byTechnique: Map<string, MemoCache>;

  constructor(shared = new MemoCache(), byTechnique: ReadonlyMap<string, MemoCache> = new Map()) {
    this.shared = shared;
    this.byTechnique = new Map(byTechnique);
  }

  /** What was worked out for one technique; empty where nothing was yet. */
  forTechnique(technique: string): MemoCache {
    const known = this.byTechnique.get(technique);
    if (known !== undefined) return known;
    const empty = new MemoCache();
    this.byTechnique.set(technique, empty);
    return empty;
  }

  /** Forgets all techniques but these. */
  keepOnly(techniques: ReadonlySet<string>): void {
    for (const id of [...this.byTechnique.keys()]) if (!techniques.has(id)) this.byTechnique.delete(id);
  }

  /** A cache that starts with the same values; what is added to one is not in the other. */
  copy(): ModelCache {
    return new ModelCache(
      this.shared.copy(),
      new Map([...this.byTechnique].map(([id, cache]) => [id, cache.copy()])),
    );
  }
}
