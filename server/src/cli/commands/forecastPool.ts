import { setImmediate } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { pool as poolOf } from 'workerpool';
import { answered, type Answer, type Asked } from './forecasts.ts';

/** Questions handed over at once: few enough that the threads end at about the same time. */
const together = 8;

/** The worker's file, beside this one as both are bundled (build.mjs). */
const bundled = fileURLToPath(new URL('./forecastWorker.js', import.meta.url));

/**
 * The same as `answered`, worked out by worker threads while further questions are come upon. Where a thread ends by
 * itself or fails, all that is not answered yet is worked out here.
 *
 * @param threads how many may be started
 * @param script absolute path of the worker's file
 */
export async function answeredByPool(
  asked: Iterable<Asked>,
  threads: number,
  script = bundled,
): Promise<Answer[]> {
  const pool = poolOf(script, { workerType: 'thread', maxWorkers: threads });
  // The library may wait for ever for a thread that is dead: nothing here waits for the end of one.
  const close = () => void pool.terminate(true);
  let usable = true;
  const answers = async (some: readonly Asked[]): Promise<readonly Answer[]> => {
    try {
      if (usable) return await pool.exec<typeof answered>('answered', [some]);
    } catch {
      // What still waits for a thread is refused by this, and so comes here, too.
      if (usable) close();
      usable = false;
    }
    return answered(some);
  };
  try {
    const all: Promise<readonly Answer[]>[] = [];
    let some: Asked[] = [];
    for (const one of asked) {
      some.push(one);
      if (some.length < together) continue;
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
