import { resolveConstants } from '../../model/core/constants.ts';
import type { OtherRating } from '../../model/pool/addByRating.ts';
import { comesLike } from '../../model/pool/othersSummary.ts';
import { othersWords } from '../../model/pool/othersWord.ts';
import type { PooledTechnique } from '../../model/pool/pooledTechnique.ts';
import { formatCount } from '../../text/format.ts';
import type { Project } from '../../workspace/project.ts';

/** What a pool says of one technique. */
export interface PoolRow {
  /** Its id. */
  readonly technique: string;
  readonly runners: number;
  /** Its difficulty in the route, 1 to 10. */
  readonly rated: number;
  /** The difficulty that it comes like to these runners, 1 to 10 in tenths. */
  readonly comesLike: number;
  readonly pooled: PooledTechnique;
}

/** A technique of which something was counted that the pool does not tell. */
export interface LeftOut {
  readonly technique: string;
  readonly runners: number;
  /** `few` runners practised it; it was `rated` otherwise; the route does not know it. */
  readonly why: 'few' | 'rated' | 'unknown';
  /** A whole sentence, without the technique's name. */
  readonly reason: string;
}

/** What a pool tells, and what not. */
export interface PoolSum {
  /** In the order of the route. */
  readonly rows: readonly PoolRow[];
  readonly leftOut: readonly LeftOut[];
}

/**
 * What is told of a sum of runners and pools.
 *
 * @param sums by id; those that the route does not have are left out
 * @param minRunners a technique that fewer practised is left out
 */
export function poolSum(
  { techniques }: Project,
  sums: ReadonlyMap<string, PooledTechnique>,
  otherRatings: readonly OtherRating[],
  minRunners: number,
): PoolSum {
  const inOrder = [...techniques.values()].flatMap(({ id, difficulty }) => {
    const pooled = sums.get(id);
    return pooled === undefined ? [] : [{ id, difficulty, pooled }];
  });
  const told = inOrder.filter(({ pooled }) => pooled.runners >= minRunners);
  const constants = resolveConstants({});
  const words = othersWords(told, constants);
  const few = inOrder.filter(({ pooled }) => pooled.runners < minRunners);
  return {
    rows: told.map(({ id, difficulty, pooled }, i) => ({
      technique: id,
      runners: pooled.runners,
      rated: difficulty,
      comesLike: comesLike({ difficulty, others: words[i]! }, constants),
      pooled,
    })),
    leftOut: [
      ...few.map(({ id, pooled: { runners } }) => ({
        technique: id,
        runners,
        why: 'few' as const,
        reason: tooFew(runners, minRunners),
      })),
      ...otherRatings.map(({ technique, runners, difficulty, summed }) => ({
        technique,
        runners,
        why: 'rated' as const,
        reason: `${formatCount(runners, 'runner')} had it rated ${difficulty}, and more runners ${summed}: counts at different ratings cannot be added up.`,
      })),
    ],
  };
}

function tooFew(runners: number, minRunners: number): string {
  return `${formatCount(runners, 'runner')} practised it, and nothing is told of fewer than ${minRunners}.`;
}
