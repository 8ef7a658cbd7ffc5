import { setImmediate } from 'node:timers/promises';
import { pool as poolOf } from 'workerpool';

/** Work that threads can do: plain data in, plain data out. */
export interface ThreadWork<Task, Answer> {
  /** Absolute path of the worker's file. */
  readonly script: string;
  /** The name of the worker's function. It takes a list of tasks and `shared`, and gives an answer for each. */
  readonly method: string;
  /** What all tasks have in common; copied with each batch. */
  readonly shared?: unknown;
  /** Tasks handed to a thread at once: few enough that all threads end at about the same time. */
  readonly batchSize: number;
  /** The same work in this thread. */
  readonly here: (some: readonly Task[]) => readonly Answer[] | Promise<readonly Answer[]>;
  /** Is told how many more tasks are answered. */
  readonly answered?: (count: number) => void;
}

/**
 * Works through tasks by threads, while further tasks are still being found. Where a thread ends or fails, this thread
 * does everything that has no answer yet.
 *
 * @param threads the largest number to start
 * @returns the answers in the order of the tasks
 */
export async function workInThreads<Task, Answer>(
  tasks: Iterable<Task>,
  threads: number,
  { script, method, shared, batchSize, here, answered = () => undefined }: ThreadWork<Task, Answer>,
): Promise<Answer[]> {
  const pool = poolOf(script, { workerType: 'thread', maxWorkers: threads });
  // The library may wait for ever for a dead thread to end, so nothing here waits for that.
  const close = () => void pool.terminate(true);
  let usable = true;
  // What comes back to this thread is done one after the other, so that it is not all in memory at once.
  let doneHere: Promise<unknown> = Promise.resolve();
  const answerHere = (some: readonly Task[]): Promise<readonly Answer[]> => {
    const answer = doneHere.then(() => here(some));
    doneHere = answer.catch(() => undefined);
    return answer;
  };
  const answers = async (some: readonly Task[]): Promise<readonly Answer[]> => {
    try {
      if (usable) return (await pool.exec(method, [some, shared])) as readonly Answer[];
    } catch {
      // This rejects all tasks that still wait for a thread, so they come to this line, too.
      if (usable) close();
      usable = false;
    }
    return answerHere(some);
  };
  const counted = async (some: readonly Task[]): Promise<readonly Answer[]> => {
    const given = await answers(some);
    answered(some.length);
    return given;
  };
  try {
    const all: Promise<readonly Answer[]>[] = [];
    let some: Task[] = [];
    for (const one of tasks) {
      some.push(one);
      if (some.length < batchSize) continue;
      all.push(counted(some));
      some = [];
      // Lets the results of the threads arrive.
      await setImmediate();
    }
    if (some.length > 0) all.push(counted(some));
    return (await Promise.all(all)).flat();
  } finally {
    close();
  }
}
