/** Numbers of a pool that so many runners cannot have made. */
import type { PoolDocument, TechniqueInPool } from '../files/documents/documents.ts';
import { pooledProperties } from '../model/pool/addUp.ts';
import { commonShares, perLog } from '../model/pool/commonParts.ts';
import { most } from '../model/pool/contribution.ts';

/** What one runner adds to a number at most, up or down. */
const mostOfOne = most * perLog;

/** Techniques of which a pool says more than its runners can: somebody wrote the numbers. */
export function overstatedTechniques({ techniques }: Pick<PoolDocument, 'techniques'>): TechniqueInPool[] {
  return techniques.filter((technique) => {
    const limit = technique.runners * mostOfOne;
    return pooledProperties.some((property) => {
      const told = technique[property];
      return (
        told !== undefined &&
        commonShares.some(({ name }) => told[name].some((number) => Math.abs(number) > limit))
      );
    });
  });
}
