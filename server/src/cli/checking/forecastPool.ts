import { fileURLToPath } from 'node:url';
import { workInThreads } from '../threads/workInThreads.ts';
import { type ForecastResult, type ForecastTask, runForecasts } from './forecasts.ts';

/** The worker's file, which the bundler puts next to this one (build.mjs). */
const bundledWorker = fileURLToPath(new URL('./forecastWorker.js', import.meta.url));

/**
 * Computes the same as `runForecasts`, by worker threads, while further tasks are still being found.
 *
 * @param threads the largest number to start
 * @param script absolute path of the worker's file
 */
export function runForecastsInPool(
  tasks: Iterable<ForecastTask>,
  threads: number,
  script = bundledWorker,
): Promise<ForecastResult[]> {
  return workInThreads(tasks, threads, { script, method: 'answered', batchSize: 8, here: runForecasts });
}
