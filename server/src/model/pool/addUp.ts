/** Sums of pools: exact, and the same in any order, because the numbers of a pool are whole. */
import { forEachShare } from './commonParts.ts';
import type { PooledNumbers, PooledTechnique } from './pooledTechnique.ts';

/** Fewest runners of whom a pool tells together. */
export const leastRunners = 3;

/** Most runners of one pool: the numbers of more might not fit into its file. */
export const mostRunners = 10_000;

/** The properties of a pooled technique that are added up. */
export const pooledProperties = ['midway', 'loss', 'suddenness', 'ceiling', 'floor'] as const;

/**
 * What several runners say together of one technique, or what is left when some of them are taken out again.
 *
 * @param sign 1 adds the second to the first, -1 takes it out
 */
export function combine(a: PooledTechnique, b: PooledTechnique, sign: 1 | -1 = 1): PooledTechnique {
  const sums: Partial<Record<(typeof pooledProperties)[number], PooledNumbers>> = {};
  for (const property of pooledProperties) {
    const [first, second] = [a[property], b[property]];
    if (first !== undefined && second !== undefined) sums[property] = sumOf(first, second, sign);
    else if (first !== undefined) sums[property] = first;
    else if (second !== undefined && sign === 1) sums[property] = second;
  }
  return { ...a, ...sums, runners: Math.max(0, a.runners + sign * b.runners) };
}

function sumOf(a: PooledNumbers, b: PooledNumbers, sign: 1 | -1): PooledNumbers {
  return forEachShare((_, name) => a[name].map((value, k) => value + sign * (b[name][k] ?? 0)));
}
