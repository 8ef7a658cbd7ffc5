/** A child process of the coverage of forecasts: takes runners one at a time and sends back what they were told. */
import { forecastsFor } from './forecastCoverage.ts';

/** One runner: a kind and a seed. */
export interface CoverageTask {
  readonly kind: string;
  readonly seed: number;
}

process.on('message', ({ kind, seed }: CoverageTask) => {
  process.send?.({ told: forecastsFor(kind, seed) });
});
process.send?.('ready');
