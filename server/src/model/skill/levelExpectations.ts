/** Expected values of many functions of the landing rate in a run, at the same levels of practice. */
import type { RateTable } from '../core/rateTable.ts';
import { practiceGrid, placeOnGrid, practiceLogits, sharesRows } from './rateEstimates.ts';
import type { SkillPosterior } from './skillPosterior.ts';

/**
 * Expected values of many functions at the same levels of practice, as {@link expectationFunction} gives them. An
 * expectation is a sum of the function's values at the points of its table, each with a weight; the weights of a level
 * are computed once, and each further function then takes the time of that sum.
 */
export class LevelExpectations {
  private readonly posterior: SkillPosterior;
  private readonly shape: RateTable;
  private readonly weights = new Map<number, Float64Array>();

  /** @param shape a table with the points that all functions have */
  constructor(posterior: SkillPosterior, shape: RateTable) {
    this.posterior = posterior;
    this.shape = shape;
  }

  /** Expected value of a function of the landing rate in a run at a level of practice. */
  at(level: number, { values }: RateTable): number {
    const weights = this.weights.get(level) ?? this.weightsAt(level);
    this.weights.set(level, weights);
    let sum = 0;
    for (let i = 0; i < weights.length; i++) sum += weights[i]! * values[i]!;
    return sum;
  }

  private weightsAt(level: number): Float64Array {
    const { posterior, shape } = this;
    const { losses, rows, weight, row } = posterior;
    const width = losses.count;
    const x = practiceLogits(posterior, level);
    const weights = new Float64Array(shape.values.length);
    if (!sharesRows(posterior)) {
      for (let i = 0; i < x.length; i++) {
        for (let j = 0, r = row[i]! * width; j < width; j++, r++)
          addAt(weights, shape, x[i]! - losses.from - j * losses.step, weight[i]! * rows[r]!);
      }
      return weights;
    }
    const grid = practiceGrid(posterior, shape);
    const onGrid = new Float64Array((rows.length / width) * grid.points);
    for (let i = 0; i < x.length; i++) {
      const { base, share } = placeOnGrid(grid, x[i]!);
      const at = row[i]! * grid.points + base;
      onGrid[at]! += weight[i]! * (1 - share);
      onGrid[at + 1]! += weight[i]! * share;
    }
    for (let at = 0; at < onGrid.length; at++) {
      if (onGrid[at] === 0) continue;
      const r = Math.floor(at / grid.points);
      const from = grid.from + (at % grid.points) * grid.step - losses.from;
      for (let j = 0; j < width; j++)
        addAt(weights, shape, from - j * losses.step, onGrid[at]! * rows[r * width + j]!);
    }
    return weights;
  }
}

/** Adds the weight of a value at log odds `x` to the two points of a table that it is interpolated from. */
function addAt(weights: Float64Array, { from, step }: RateTable, x: number, weight: number): void {
  const at = (x - from) / step;
  const last = weights.length - 1;
  if (!(at > 0)) weights[0]! += weight;
  else if (at >= last) weights[last]! += weight;
  else {
    const base = Math.floor(at);
    weights[base]! += weight * (1 - (at - base));
    weights[base + 1]! += weight * (at - base);
  }
}
