import { setImmediate } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { pool as poolOf } from 'workerpool';
import { type ForecastResult, type ForecastTask, runForecasts } from './forecasts.ts';

/** Tasks handed to a thread at once: few enough that all threads end at about the same time. */
const batchSize = 8;

/** The worker's file, which the bundler puts next to this one (build.mjs). */
const bundledWorker = fileURLToPath(new URL('./forecastWorker.js', import.meta.url));

/**
 * Computes the same as `runForecasts`, by worker threads, while further tasks are still being found. Where a thread
 * ends or fails, this thread computes everything that has no result yet.
 *
 * @param threads the largest number to start
 * @param script absolute path of the worker's file
 */
export async function runForecastsInPool(
  tasks: Iterable<ForecastTask>,
  threads: number,
  script = bundledWorker,
): Promise<ForecastResult[]> {
  const pool = poolOf(script, { workerType: 'thread', maxWorkers: threads });
  // The library may wait for ever for a dead thread to end, so nothing here waits for that.
  const close = () => void pool.terminate(true);
  let usable = true;
  const answers = async (some: readonly ForecastTask[]): Promise<readonly ForecastResult[]> => {
    try {
      if (usable) return await pool.exec<typeof runForecasts>('answered', [some]);
    } catch {
      // This rejects all tasks that still wait for a thread, so they come to this line, too.
      if (usable) close();
      usable = false;
    }
    return runForecasts(some);
  };
  try {
    const all: Promise<readonly ForecastResult[]>[] = [];
    let some: ForecastTask[] = [];
    for (const one of tasks) {
      some.push(one);
      if (some.length < batchSize) continue;
      all.push(answers(some));
      some = [];
      // Lets the results of the threads arrive.
      await setImmediate();
    }
    if (some.length > 0) all.push(answers(some));
    return (await Promise.all(all)).flat();
  } finally {
    close();
  }
}
