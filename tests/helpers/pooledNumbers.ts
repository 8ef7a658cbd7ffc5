/** Numbers of an invented pool. */
import { forEachShare } from '../../server/src/model/pool/commonParts.ts';
import type { PooledNumbers, PooledTechnique } from '../../server/src/model/pool/pooledTechnique.ts';

/** The same for every share, or each by itself. */
export const numbers = forEachShare;

/** A list of as many zeros: it says nothing. */
export const silent = (count: number): PooledNumbers => numbers(() => Array.from({ length: count }, () => 0));

/** A pooled technique whose half-way point is told of, all else silent. */
export function pooled(midway: PooledNumbers, runners = 10, difficulty = 4): PooledTechnique {
  return {
    ...{ runners, difficulty, midway },
    ...{ suddenness: silent(6), ceiling: silent(4), floor: silent(4) },
  };
}
