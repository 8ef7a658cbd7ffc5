/** Child processes, one for each core, that are handed tasks one at a time. */
import { fork } from 'node:child_process';
import { availableParallelism } from 'node:os';

/**
 * Hands the tasks to child processes that answer `ready` and then each task with its result; `onDone` is told of each as it ends.
 *
 * @throws Error where a process ends with a code
 */
export async function handOut<Task extends object, Result extends object>(
  workerFile: string,
  tasks: readonly Task[],
  onDone: (task: Task, result: Result) => void,
): Promise<void> {
  let handed = 0;
  let ended = 0;
  const oneWorker = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const child = fork(workerFile, { execArgv: process.execArgv });
      let task: Task | undefined;
      child.on('message', (message: Result | 'ready') => {
        if (message !== 'ready') {
          ended++;
          onDone(task!, message);
          if (ended % 20 === 0 || ended === tasks.length)
            process.stderr.write(`${ended} of ${tasks.length}\n`);
        }
        task = tasks[handed++];
        if (task === undefined) child.disconnect();
        else child.send(task);
      });
      child.on('error', reject);
      child.on('exit', (code) => {
        if (code === 0) resolve();
        else reject(new Error(`A process of the arena ended with code ${code}`));
      });
    });
  await Promise.all(Array.from({ length: Math.min(availableParallelism(), tasks.length) }, oneWorker));
}
