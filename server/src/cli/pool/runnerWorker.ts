import { worker } from 'workerpool';
import { RunnerCounter } from './runnerCounter.ts';
import type { CountingRoute, RunnerTask } from './runnerTask.ts';

/** The entry point of a worker thread: it reads the files of the runners that it is handed, and hands back numbers. */
const counter = new RunnerCounter();

worker({
  counted: (tasks: readonly RunnerTask[], route: CountingRoute) => counter.count(tasks, route),
  lastDays: (tasks: readonly RunnerTask[], route: CountingRoute) => counter.lastDays(tasks, route),
});
