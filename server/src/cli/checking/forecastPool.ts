import { setImmediate } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { pool as poolOf } from 'workerpool';
import { type ForecastResult, type ForecastTask, runForecasts } from './forecasts.ts';

/** Questions handed over at once: few enough that the threads end at about the same time. */
const batchSize = 8;

/** The worker's file, beside this one as both are bundled (build.mjs). */
const bundledWorker = fileURLToPath(new URL('./forecastWorker.js', import.meta.url));

/**
 * The same as `runForecasts`, worked out by worker threads while further questions are come upon. Where a thread ends by
 * itself or fails, all that is not answered yet is worked out here.
 *
 * @param threads how many may be started
 * @param script absolute path of the worker's file
 */
export async function runForecastsInPool(
  asked: Iterable<ForecastTask>,
  threads: number,
  script = bundledWorker,
): Promise<ForecastResult[]> {
  const pool = poolOf(script, { workerType: 'thread', maxWorkers: threads });
  // The library may wait for ever for a thread that is dead: nothing here waits for the end of one.
  const close = () => void pool.terminate(true);
  let usable = true;
  const answers = async (some: readonly ForecastTask[]): Promise<readonly ForecastResult[]> => {
    try {
      if (usable) return await pool.exec<typeof runForecasts>('answered', [some]);
    } catch {
      // What still waits for a thread is refused by this, and so comes here, too.
      if (usable) close();
      usable = false;
    }
    return runForecasts(some);
  };
  try {
    const all: Promise<readonly ForecastResult[]>[] = [];
    let some: ForecastTask[] = [];
    for (const one of asked) {
      some.push(one);
      if (some.length < batchSize) continue;
      all.push(answers(some));
      some = [];
      // What the threads say is heard in between.
      await setImmediate();
    }
    if (some.length > 0) all.push(answers(some));
    return (await Promise.all(all)).flat();
  } finally {
    close();
  }
}
