/**
 * `npm run arena`: simulated runners follow the tool, hand rules and a clairvoyant for four weeks.
 *
 * Options: --runners N (of each kind), --seed S, --kinds a,b, --policies a,b, --known SHARE (of the techniques, learned
 * before the logs begin), --write (puts the table into tests/arena/README.md).
 */
import { fork } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { writeBlock } from '../helpers/writeBlock.ts';
import { policies } from './policies/policies.ts';
import { table } from './table.ts';
import type { Result, Task } from './task.ts';
import { kinds } from './truth/kinds.ts';

const page = join(import.meta.dirname, 'README.md');
const workerFile = fileURLToPath(new URL('./worker.ts', import.meta.url));

/** Hands the tasks to child processes, one for each core. */
function performAll(tasks: readonly Task[]): Promise<Result[]> {
  const results: Result[] = [];
  let handed = 0;
  let done = 0;
  const oneWorker = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const child = fork(workerFile, { execArgv: process.execArgv });
      child.on('message', (message: Result | null | 'ready') => {
        if (message !== 'ready') {
          done++;
          if (message !== null) results.push(message);
          if (done % 20 === 0 || done === tasks.length) process.stderr.write(`${done} of ${tasks.length}\n`);
        }
        if (handed < tasks.length) child.send(tasks[handed++]!);
        else child.disconnect();
      });
      child.on('error', reject);
      child.on('exit', (code) => {
        if (code === 0) resolve();
        else reject(new Error(`A process of the arena ended with code ${code}`));
      });
    });
  const workers = Array.from({ length: Math.min(availableParallelism(), tasks.length) }, oneWorker);
  return Promise.all(workers).then(() => results);
}

const { values } = parseArgs({
  options: {
    runners: { type: 'string', default: '200' },
    seed: { type: 'string', default: '20260' },
    known: { type: 'string', default: '0' },
    kinds: { type: 'string', default: Object.keys(kinds).join(',') },
    policies: { type: 'string', default: Object.keys(policies).join(',') },
    write: { type: 'boolean', default: false },
    json: { type: 'string' },
  },
});
const count = Number(values.runners);
const seed = Number(values.seed);
const knownShare = Number(values.known);
const chosen = values.kinds.split(',');
const titles = values.policies.split(',');
const tasks = Array.from({ length: count }, (_, runner) =>
  chosen.map((kind): Task => ({ kind, runner, seed, knownShare, policies: titles })),
).flat();
const began = performance.now();
const results = await performAll(tasks);
results.sort((a, b) => a.runner - b.runner || (a.kind < b.kind ? -1 : 1));
const seconds = ((performance.now() - began) / 1000).toFixed(0);
process.stderr.write(`${results.length} runners in ${seconds} s\n`);
const known = knownShare > 0 ? ` --known ${knownShare}` : '';
const block = `${table(results, titles)}\n\n\`npm run arena -- --runners ${count} --seed ${seed}${known}\` (${count} runners of each kind, mean ± standard error)`;
console.log(block);
if (values.json !== undefined) writeFileSync(values.json, JSON.stringify(results));
if (values.write) await writeBlock(page, 'arena', block);
