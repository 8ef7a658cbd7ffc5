/** Functions of a landing rate, tabulated over its log odds so that sums over the posterior stay cheap. */
import type { Steps } from '../../incremental/steps.ts';
import { clamp, logistic } from './numbers.ts';

/**
 * Values of a function of the landing rate at evenly spaced log odds, starting at `from`. Beyond the ends the
 * function is constant.
 */
export interface RateTable {
  readonly from: number;
  readonly step: number;
  readonly values: Float64Array;
}

/** Step in log odds; linear interpolation of a logistic is then within 1.3e-4 of its height. */
export const logOddsStep = 0.1;

/**
 * Tabulates `worth(rate)` for rates from `rateFloor` to 1 − `rateFloor`.
 *
 * @example
 * tabulate((rate) => 8 * rate, 1e-4).from // -9.3
 */
export function tabulate(worth: (rate: number) => number, rateFloor: number): RateTable {
  const rates = tabulatedRates(rateFloor);
  return tableOf(rates.map(worth));
}

/** The same for a function that is worked out in steps. */
export function* tabulateInSteps(
  worth: (rate: number) => Steps<number>,
  rateFloor: number,
): Steps<RateTable> {
  const values = tabulatedRates(rateFloor);
  for (let i = 0; i < values.length; i++) {
    values[i] = yield* worth(values[i]!);
  }
  return tableOf(values);
}

function tabulatedRates(rateFloor: number): Float64Array {
  const edge = Math.log((1 - rateFloor) / rateFloor);
  const half = Math.ceil(edge / logOddsStep);
  return Float64Array.from({ length: 2 * half + 1 }, (_, i) =>
    clamp(logistic((i - half) * logOddsStep), rateFloor, 1 - rateFloor),
  );
}

function tableOf(values: Float64Array): RateTable {
  return { from: -((values.length - 1) / 2) * logOddsStep, step: logOddsStep, values };
}

/**
 * The value of a table at log odds `x`, by linear interpolation between its points.
 *
 * @example
 * interpolateTable(tabulate((rate) => 8 * rate, 1e-4), 0) // 4
 */
export function interpolateTable(table: RateTable, x: number): number {
  const { values } = table;
  const at = (x - table.from) / table.step;
  const last = values.length - 1;
  if (!(at > 0)) return values[0]!;
  if (at >= last) return values[last]!;
  const base = Math.floor(at);
  const low = values[base]!;
  return low + (at - base) * (values[base + 1]! - low);
}
