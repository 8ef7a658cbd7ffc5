/** The runner's offsets and pressures that carry the weight, for the techniques to be independent given them. */
export interface QuadratureNodes {
  readonly rows: readonly number[];
  readonly columns: readonly number[];
}

/**
 * Every second offset and pressure that carries more than a thousandth of the heaviest. The grid reaches four
 * standard deviations each way in steps of two thirds of one; twice that step still sums a smooth bell to 1e-4.
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
