/** Least squares of y ≈ offset + factor · g(x), where g has one further parameter, which is found by a search. */

export interface ScaledFit {
  readonly parameter: number;
  readonly factor: number;
  readonly offset: number;
  /** Sum of squared residuals. */
  readonly residuals: number;
}

/** The best factor, and offset if there is one, for values of g: a straight line through (g, y). */
function lineThrough(
  g: readonly number[],
  y: readonly number[],
  withOffset: boolean,
): Omit<ScaledFit, 'parameter'> {
  const mean = (values: readonly number[]): number =>
    withOffset ? values.reduce((a, b) => a + b, 0) / values.length : 0;
  const [gMean, yMean] = [mean(g), mean(y)];
  let [gg, gy] = [0, 0];
  g.forEach((value, i) => {
    gg += (value - gMean) ** 2;
    gy += (value - gMean) * (y[i]! - yMean);
  });
  const factor = gy / gg;
  const offset = yMean - factor * gMean;
  const residuals = g.reduce((sum, value, i) => sum + (y[i]! - offset - factor * value) ** 2, 0);
  return { factor, offset, residuals };
}

/** Fits by golden section between two ends of the parameter, between which the residuals have a single minimum. */
export function fitScaled(
  x: readonly number[],
  y: readonly number[],
  g: (parameter: number, x: number) => number,
  [low, high]: readonly [number, number],
  withOffset = false,
): ScaledFit {
  const at = (parameter: number) =>
    lineThrough(
      x.map((value) => g(parameter, value)),
      y,
      withOffset,
    );
  const golden = (Math.sqrt(5) - 1) / 2;
  let [from, to] = [low, high];
  for (let i = 0; i < 90; i++) {
    const [a, b] = [to - golden * (to - from), from + golden * (to - from)];
    if (at(a).residuals < at(b).residuals) to = b;
    else from = a;
  }
  const parameter = (from + to) / 2;
  return { parameter, ...at(parameter) };
}
