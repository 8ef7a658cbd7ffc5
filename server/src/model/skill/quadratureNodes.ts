/**
 * The points of the runner's grid that have nearly all the weight: numbers of rows (offsets) and of columns
 * (pressures). Given one offset and one pressure, techniques are independent.
 */
export interface QuadratureNodes {
  readonly rows: readonly number[];
  readonly columns: readonly number[];
}

/**
 * Every second offset and pressure whose weight is more than a thousandth of the greatest. The grid extends four
 * standard deviations to each side, in steps of two thirds of a standard deviation; with twice that step, the sum
 * over a smooth bell-shaped density is still exact to 1e-4.
 */
export function quadratureNodes(offsetWeights: Float64Array, pressureWeights: Float64Array): QuadratureNodes {
  const heavy = (weights: Float64Array): number[] => {
    const top = weights.reduce((a, b) => Math.max(a, b), 0);
    const every = [...weights.keys()].filter((i) => weights[i]! > 1e-3 * top);
    const second = every.filter((i) => i % 2 === ((weights.length - 1) / 2) % 2);
    return second.length > 2 ? second : every;
  };
  return { rows: heavy(offsetWeights), columns: heavy(pressureWeights) };
}
