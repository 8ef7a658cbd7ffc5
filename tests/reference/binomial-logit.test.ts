import { expect, test } from 'vitest';
import { logBetaBinomial } from '../../server/src/model/skill/countLikelihood.ts';
import { fitLine } from '../helpers/fit.ts';

/** The project's own likelihood where days do not differ: its concentration so large that it is the binomial. */
const binomial = (landed: number, tries: number, p: number): number => logBetaBinomial(landed, tries, p, 1e9);

test('Bliss beetles: logit fit, standard errors and deviance', () => {
  // S: Bliss 1935, Annals of Applied Biology 22; the fit as in Agresti, Categorical Data Analysis.
  const x = [1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.861, 1.8839];
  const tries = [59, 60, 62, 56, 63, 59, 62, 60];
  const landed = [6, 13, 18, 28, 52, 53, 61, 60];
  const groups = x.map((dose, i) => ({ x: dose, landed: landed[i]!, tries: tries[i]! }));
  const fit = fitLine(groups, binomial);
  // Tolerances: what finite differences and the finite concentration leave.
  expect(fit.intercept).toBeCloseTo(-60.717455, 3);
  expect(fit.slope).toBeCloseTo(34.270326, 3);
  expect(fit.interceptError).toBeCloseTo(5.180711, 3);
  expect(fit.slopeError).toBeCloseTo(2.91214, 3);
  const full = groups.reduce((sum, g) => sum + binomial(g.landed, g.tries, g.landed / g.tries), 0);
  expect(2 * (full - fit.logLikelihood)).toBeCloseTo(11.232231, 3);
});

test('Challenger: damaged rings against temperature', () => {
  // S: Dalal, Fowlkes & Hoadley 1989, Journal of the American Statistical Association 84; six rings a flight.
  const temperature = [
    53, 57, 58, 63, 66, 67, 67, 67, 68, 69, 70, 70, 70, 70, 72, 73, 75, 75, 76, 76, 78, 79, 81,
  ];
  const damaged = [5, 1, 1, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0];
  const fit = fitLine(
    temperature.map((x, i) => ({ x, landed: damaged[i]!, tries: 6 })),
    binomial,
  );
  expect(fit.intercept).toBeCloseTo(11.6629897, 3);
  expect(fit.slope).toBeCloseTo(-0.21623366, 5);
  expect(fit.interceptError).toBeCloseTo(3.2962631, 3);
  expect(fit.slopeError).toBeCloseTo(0.05317703, 5);
});
