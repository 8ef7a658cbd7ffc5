/** What several runners' practice says together about one technique's curve: plain numbers, nothing of one person. */

/**
 * Weights of the places of one property of the curve, in tenths of a natural logarithm, one list for each share of a
 * technique's own difference that runners may have in common. Lists of one property are equally long.
 */
export interface PooledNumbers {
  readonly quarter: readonly number[];
  readonly half: readonly number[];
  readonly threeQuarters: readonly number[];
  readonly nearlyAll: readonly number[];
}

/** One technique of a pool. What is left out was not counted. */
export interface PooledTechnique {
  /** How many runners practised it; at least 3. */
  readonly runners: number;
  /** As the route rated it when it was counted, 1 to 10. */
  readonly difficulty: number;
  /** 25 places of the half-way point, from three steps of ln practice earlier than the rating says to three later. */
  readonly midway: PooledNumbers;
  /** 13 places of what is lost in runs. */
  readonly loss?: PooledNumbers;
  /** 6 values. */
  readonly suddenness?: PooledNumbers;
  /** 4 values. */
  readonly ceiling?: PooledNumbers;
  /** 4 values. */
  readonly floor?: PooledNumbers;
}
