/** Maximum likelihood of a straight line in log odds, for any log likelihood of counts, by Newton's method. */

export interface LineFit {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptError: number;
  readonly slopeError: number;
  readonly logLikelihood: number;
}

/** Fits logit p = intercept + slope·x where `logLikelihood(landed, tries, p)` is summed over the groups. */
export function fitLine(
  groups: readonly { readonly x: number; readonly landed: number; readonly tries: number }[],
  logLikelihood: (landed: number, tries: number, p: number) => number,
): LineFit {
  const centre = groups.reduce((sum, g) => sum + g.x, 0) / groups.length;
  const scale = Math.max(...groups.map((g) => Math.abs(g.x - centre)));
  const f = (a: number, b: number): number =>
    groups.reduce((sum, g) => {
      const p = 1 / (1 + Math.exp(-(a + (b * (g.x - centre)) / scale)));
      return sum + logLikelihood(g.landed, g.tries, p);
    }, 0);
  let [a, b] = [0, 0];
  let [aa, ab, bb] = [-1, 0, -1];
  const d = 1e-3;
  for (let round = 0; round < 60; round++) {
    const here = f(a, b);
    // Differences of fourth order: exact enough with a step that is large compared with rounding errors.
    const slope = (g: (t: number) => number): number =>
      (8 * (g(d) - g(-d)) - (g(2 * d) - g(-2 * d))) / (12 * d);
    const bend = (g: (t: number) => number): number =>
      (16 * (g(d) + g(-d)) - (g(2 * d) + g(-2 * d)) - 30 * here) / (12 * d * d);
    const da = slope((t) => f(a + t, b));
    const db = slope((t) => f(a, b + t));
    aa = bend((t) => f(a + t, b));
    bb = bend((t) => f(a, b + t));
    ab = (bend((t) => f(a + t, b + t)) - aa - bb) / 2;
    const determinant = aa * bb - ab * ab;
    const [stepA, stepB] = [(bb * da - ab * db) / determinant, (aa * db - ab * da) / determinant];
    const length = Math.max(1, Math.hypot(stepA, stepB));
    a -= stepA / length;
    b -= stepB / length;
    if (Math.hypot(stepA, stepB) < 1e-11) break;
  }
  const determinant = aa * bb - ab * ab;
  const [varA, varB, cov] = [-bb / determinant, -aa / determinant, ab / determinant];
  const k = centre / scale;
  return {
    intercept: a - b * k,
    slope: b / scale,
    interceptError: Math.sqrt(varA - 2 * k * cov + k * k * varB),
    slopeError: Math.sqrt(varB) / scale,
    logLikelihood: f(a, b),
  };
}
