/** A file that keeps what each task gave, a line each, so that a stopped arena goes on where it ended. */
import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import type { Result, Task } from './task.ts';

/** A task and what came of it. */
export interface Done {
  readonly task: Task;
  readonly result: Result;
}

/** The lines of the file; none where there is no such file. A last line that was cut off is left out. */
export function readResults(file: string): Done[] {
  if (!existsSync(file)) return [];
  return readFileSync(file, 'utf8')
    .split('\n')
    .slice(0, -1)
    .flatMap((line) => parsed(line));
}

function parsed(line: string): Done[] {
  try {
    return [JSON.parse(line) as Done];
  } catch (error) {
    if (error instanceof SyntaxError) return [];
    throw error;
  }
}

export function appendResult(file: string, done: Done): void {
  // A line that was cut off before is closed by the line break in front.
  appendFileSync(file, `\n${JSON.stringify(done)}\n`);
}

function runnerOf({ kind, runner, seed, knownShare }: Task): string {
  return JSON.stringify([kind, runner, seed, knownShare]);
}

/** What is left of the tasks: the policies that were not followed yet by that runner. */
export function leftOf(tasks: readonly Task[], done: readonly Done[]): Task[] {
  const followed = new Map<string, Set<string>>();
  for (const { task } of done) {
    const runner = runnerOf(task);
    followed.set(runner, new Set([...(followed.get(runner) ?? []), ...task.policies]));
  }
  return tasks.flatMap((task) => {
    const before = followed.get(runnerOf(task));
    const missing = task.policies.filter((title) => before?.has(title) !== true);
    return missing.length === 0 ? [] : [{ ...task, policies: missing }];
  });
}

/**
 * One result a task, from everything that was done for its runner. Of what one policy gave, the later line counts; what they are
 * measured against is the best of all lines.
 */
export function resultsOf(tasks: readonly Task[], done: readonly Done[]): Result[] {
  const found = new Map<string, Result>();
  for (const { task, result } of done) {
    const runner = runnerOf(task);
    const before = found.get(runner) ?? result;
    found.set(runner, {
      ...result,
      best: before.best.area > result.best.area ? before.best : result.best,
      outcomes: { ...before.outcomes, ...result.outcomes },
    });
  }
  return tasks.flatMap((task) => found.get(runnerOf(task)) ?? []);
}
