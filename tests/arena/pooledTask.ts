/** One runner of a route that others run, too, with and without their pool. */
import type { OthersWord } from '../../server/src/model/core/rated.ts';
import { trueRanking } from './clairvoyant/reference.ts';
import { commonWord, partsOfOthers, runnerOfRoute, wordOfParts } from './pooled.ts';
import { tool } from './policies/tool.ts';
import { seedOf } from './random.ts';
import { simulate } from './simulate.ts';

export interface PooledTask {
  readonly seed: number;
  /** Number of the route, from 0. */
  readonly route: number;
  /** What runners have in common of each technique, 0 to 1. */
  readonly share: number;
  /** How many others' six weeks are in the pool, one row each. */
  readonly others: readonly number[];
}

/** Areas under the gain, seconds: with so many others, with what is common known exactly, and by the true rates ranked alike. */
export interface PooledResult {
  readonly withOthers: readonly number[];
  readonly commonKnown: number;
  readonly ranked: number;
  /** Share of the techniques that the largest pool tells of. */
  readonly told: number;
}

export function performPooled({ seed, route, share, others }: PooledTask): PooledResult {
  const routeSeed = seedOf(seed, 20, route);
  const runner = runnerOfRoute(routeSeed, 0, share);
  const { world } = runner;
  const areaWith = (words: ReadonlyMap<string, OthersWord>): number =>
    simulate({ ...runner, world: { ...world, others: words } }, tool).area;
  const parts = partsOfOthers(routeSeed, Math.max(0, ...others), share);
  const words = others.map((count) => wordOfParts(world, parts.slice(0, count)));
  return {
    withOthers: words.map(areaWith),
    commonKnown: areaWith(commonWord(routeSeed, share, world)),
    ranked: simulate(runner, trueRanking).area,
    told: (words.at(-1)?.size ?? 0) / world.skills.length,
  };
}
