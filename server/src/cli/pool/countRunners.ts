import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { workInThreads } from '../threads/workInThreads.ts';
import { RunnerCounter } from './runnerCounter.ts';
import type { CountingRoute, RunnerCount, RunnerTask } from './runnerTask.ts';

/** How runners are divided among threads. */
export interface RunnerThreads {
  /** Number of threads; with fewer than two, no thread is started. */
  readonly threads: number;
  /** Number of runners from which on threads save time. */
  readonly minRunners: number;
  /** Absolute path of the worker's file. Default: the file in the bundle. */
  readonly script?: string;
}

/** A thread begins cold, and counts the first runners as slowly as this one would: with fewer, it saves nothing. */
export const usualThreads: RunnerThreads = { threads: Math.min(8, availableParallelism()), minRunners: 16 };

/** The worker's file, which the bundler puts next to this one (build.mjs). */
const bundledWorker = fileURLToPath(new URL('./runnerWorker.js', import.meta.url));

/** Runners handed to a thread at once. */
const batchSize = 8;

/** How far the work is, for a line on the terminal. */
export type Progress = (done: number, of: number) => void;

/**
 * What the logs of each runner add to a pool, in the order of the tasks; by several threads where that saves time.
 *
 * @param progress is told how many are counted
 */
export function countRunners(
  tasks: readonly RunnerTask[],
  route: CountingRoute,
  progress: Progress,
  threads = usualThreads,
): Promise<RunnerCount[]> {
  const counter = new RunnerCounter();
  return divide(tasks, route, progress, threads, 'counted', (some) => counter.count(some, route));
}

/** The last day on which any of the runners logged anything, by number; undefined where nobody did. */
export async function lastDayOf(
  tasks: readonly RunnerTask[],
  route: CountingRoute,
  progress: Progress,
  threads = usualThreads,
): Promise<number | undefined> {
  const counter = new RunnerCounter();
  const days = await divide(tasks, route, progress, threads, 'lastDays', (some) =>
    counter.lastDays(some, route),
  );
  const known = days.flatMap(({ day }) => day ?? []);
  return known.length === 0 ? undefined : known.reduce((a, b) => Math.max(a, b));
}

async function divide<Answer>(
  tasks: readonly RunnerTask[],
  shared: CountingRoute,
  progress: Progress,
  { threads, minRunners, script = bundledWorker }: RunnerThreads,
  method: 'counted' | 'lastDays',
  here: (some: readonly RunnerTask[]) => Promise<Answer[]>,
): Promise<Answer[]> {
  let done = 0;
  const answered = (count: number): void => progress((done += count), tasks.length);
  progress(0, tasks.length);
  if (threads >= 2 && tasks.length >= minRunners)
    return workInThreads(tasks, threads, { script, method, shared, batchSize, here, answered });
  const answers: Answer[] = [];
  for (const task of tasks) {
    answers.push(...(await here([task])));
    answered(1);
  }
  return answers;
}
