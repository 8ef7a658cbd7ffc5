import { Worker } from 'node:worker_threads';
import type { GrowthJob, GrowthSaid, GrowthTask } from './growthTask.ts';

/** What was measured of a job: milliseconds of processor time with a size and with twice that. */
export interface Growth {
  readonly name: string;
  readonly once: number;
  readonly twice: number;
  /** What went wrong: it took too long, grew too much, or threw. */
  readonly fault?: string;
}

export interface GrowthOptions {
  /** Path of the bundled worker. */
  readonly program: string;
  readonly plant?: string;
  /** Milliseconds of processor time that one size may take. */
  readonly limit?: number;
}

/** Twice as much may take less than so many times as long: twice is linear, four times quadratic. */
const mostTimes = 3;
/** Below so many milliseconds with twice the size, chance decides about the ratio. */
const floor = 400;
/** How often a job is measured that seems to grow too much: a busy machine disturbs a single measurement. */
const attempts = 3;

/**
 * Measures jobs one after the other, in a thread that is watched by its processor time, so that a busy machine does not
 * count as a slow program. The smallest growth of several attempts counts.
 */
export async function measureGrowth(jobs: readonly GrowthJob[], options: GrowthOptions): Promise<Growth[]> {
  const best: Growth[] = [];
  let left = [...jobs.keys()];
  for (let attempt = 0; attempt < attempts && left.length > 0; attempt++) {
    for (let at = 0; at < left.length;) {
      const measured = await watch(
        left.slice(at).map((job) => jobs[job]!),
        options,
      );
      for (const [index, growth] of measured.entries()) {
        const job = left[at + index]!;
        const before = best[job];
        if (!before || before.fault !== undefined) best[job] = growth;
      }
      at += measured.length;
    }
    left = left.filter((job) => best[job]!.fault !== undefined);
  }
  return best;
}

/** Measures jobs until one takes too long, which is the last one then. */
function watch(
  jobs: readonly GrowthJob[],
  { program, plant, limit = 2000 }: GrowthOptions,
): Promise<Growth[]> {
  return new Promise((resolve) => {
    const task: GrowthTask = { jobs, plant };
    const worker = new Worker(program, { workerData: task });
    const took = jobs.map(() => new Map<number, number>());
    const errors = new Map<number, string>();
    let current: { readonly job: number; readonly from: NodeJS.CpuUsage } | undefined;
    const end = (fault?: string): void => {
      clearInterval(timer);
      if (fault !== undefined && current) errors.set(current.job, fault);
      const count = fault === undefined ? jobs.length : (current?.job ?? 0) + 1;
      const growths = jobs
        .slice(0, count)
        .map(({ name }, job) => growthOf(name, took[job]!, errors.get(job)));
      void worker.terminate().then(() => resolve(growths));
    };
    const timer = setInterval(() => {
      if (current && cpuSince(current.from) > limit) end(`more than ${limit / 1000} s of processor time`);
    }, 50);
    worker.on('error', (error: Error) => end(error.stack ?? error.message));
    worker.on('message', (said: GrowthSaid) => {
      if (said.type === 'begins') current = { job: said.job, from: process.cpuUsage() };
      else if (said.type === 'failed') errors.set(said.job, said.error);
      else if (said.type === 'done') end();
      else {
        took[said.job]!.set(said.size, said.ms);
        current = undefined;
      }
    });
  });
}

function growthOf(name: string, took: ReadonlyMap<number, number>, error: string | undefined): Growth {
  const once = took.get(1) ?? NaN;
  const twice = took.get(2) ?? NaN;
  const fault =
    error ?? (twice > floor && twice >= mostTimes * once ? `${(twice / once).toFixed(1)} times` : undefined);
  return { name, once, twice, ...(fault !== undefined && { fault }) };
}

function cpuSince(from: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
}
