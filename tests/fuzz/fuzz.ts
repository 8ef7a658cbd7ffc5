import { Worker } from 'node:worker_threads';
import { seeds, type Input } from './seeds.ts';
import type { Said, Task } from './task.ts';

/** Something that went wrong, with the input that did it. */
export interface Failure {
  readonly kind: 'crash' | 'hang';
  readonly index: number;
  readonly what: string;
  readonly error: string;
  readonly input: Input;
}

export interface FuzzResult {
  /** Inputs that were tried. */
  inputs: number;
  /** Inputs that showed something new and were mutated further. */
  kept: number;
  /** Different things seen. */
  seen: number;
  /** One of each sort: failures with the same error at the same place count once. */
  readonly failures: Failure[];
  /** Milliseconds by name, of the fixed inputs. */
  readonly took: Map<string, number>;
}

export interface FuzzOptions {
  /** Path of the bundled worker. */
  readonly program: string;
  /** Folder with the samples. */
  readonly samples: string;
  readonly seed: number;
  readonly inputs: number;
  readonly featuresEvery: number;
  readonly plant?: string;
  /** Fixed inputs instead of those by chance. */
  readonly fixed?: 'bombs' | 'hostile';
  /** Of so many hostile values one is tried; left out: all. */
  readonly oneIn?: number;
  /** Milliseconds of processor time of one input after which it counts as a hang; left out: 2,000. */
  readonly limit?: number;
  /** Ends the search where it says so. */
  readonly enough?: (result: FuzzResult) => boolean;
}

const megabytes = 1024;
/** Nobody waits longer for an answer. It is processor time: a busy machine makes no hang. */
const defaultLimit = 2000;
/** A thread that does nothing for so many milliseconds waits for what never comes. */
const longestSilence = 600_000;
const mostFailures = 25;

/**
 * Tries inputs in a thread that is watched: one that takes too long is ended and reported as a hang, one that dies as a
 * crash, and the search goes on behind the input that did it.
 */
export async function fuzz(options: FuzzOptions): Promise<FuzzResult> {
  const result: FuzzResult = { inputs: 0, kept: 0, seen: 0, failures: [], took: new Map() };
  const corpus = seeds(options.samples);
  const seen = new Set<string>();
  const sorts = new Set<string>();
  const fail = (failure: Failure): void => {
    const sort = sortOf(failure);
    if (sorts.has(sort)) return;
    sorts.add(sort);
    result.failures.push(failure);
  };
  let from = 0;
  while (from < options.inputs) {
    const { seed, inputs: to, featuresEvery, plant, fixed, oneIn = 1 } = options;
    const task: Task = { seed, from, to, featuresEvery, plant, fixed, oneIn, corpus, seen: [...seen] };
    const ended = await watch(options, task, {
      kept: (input, found) => {
        corpus.push(input);
        for (const one of found) seen.add(one);
      },
      began: () => result.inputs++,
      failed: fail,
      took: (what, ms) => result.took.set(what, ms),
      enough: () => result.failures.length >= mostFailures || options.enough?.(result) === true,
    });
    result.kept = corpus.length - 8;
    result.seen = seen.size;
    if (ended === undefined) break;
    from = ended + 1;
  }
  return result;
}

interface Listener {
  readonly kept: (input: Input, found: readonly string[]) => void;
  readonly began: () => void;
  readonly failed: (failure: Failure) => void;
  readonly took: (what: string, ms: number) => void;
  readonly enough: () => boolean;
}

/** Runs one thread to its end; gives the index of the input that ended it before its time. */
function watch(
  { program, limit = defaultLimit }: FuzzOptions,
  task: Task,
  listener: Listener,
): Promise<number | undefined> {
  return new Promise((resolve) => {
    const worker = new Worker(program, {
      workerData: task,
      resourceLimits: { maxOldGenerationSizeMb: megabytes },
    });
    let current: Extract<Said, { type: 'begins' }> | undefined;
    let since = process.cpuUsage();
    let saidAt = Date.now();
    let over = false;
    const end = (index: number | undefined): void => {
      if (over) return;
      over = true;
      clearInterval(timer);
      void worker.terminate().then(() => resolve(index));
    };
    const failed = (kind: Failure['kind'], error: string): void => {
      if (over || !current) return end(undefined);
      const { index, what, input } = current;
      listener.failed({ kind, index, what, error, input });
      end(listener.enough() ? undefined : index);
    };
    const timer = setInterval(() => {
      const { user, system } = process.cpuUsage(since);
      if (current && user + system > limit * 1000)
        failed('hang', `No end within ${limit / 1000} s of processor time.`);
      else if (current && Date.now() - saidAt > longestSilence) failed('hang', 'It waits for ever.');
    }, 50);
    worker.on('error', (error: Error) => failed('crash', error.stack ?? error.message));
    worker.on('exit', () => failed('crash', 'The thread ended.'));
    worker.on('message', (said: Said) => {
      if (over) return;
      since = process.cpuUsage();
      saidAt = Date.now();
      if (said.type === 'begins') {
        current = said;
        listener.began();
      } else if (said.type === 'kept') listener.kept(said.input, said.seen);
      else if (said.type === 'took') listener.took(said.what, said.ms);
      else if (said.type === 'done') end(undefined);
      else listener.failed({ kind: 'crash', ...said });
      if (listener.enough()) end(undefined);
    });
  });
}

/** What makes two failures the same: the error without what differs from input to input, and where it came from. */
function sortOf({ kind, what, error }: Failure): string {
  const [message = '', ...stack] = error.split('\n');
  return [kind, what, message.replaceAll(/\d+|“[^”]*”/g, '0'), stack[0] ?? ''].join('|');
}
