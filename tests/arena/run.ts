/**
 * `npm run arena`: simulated runners follow the tool, hand rules and a clairvoyant for four weeks.
 *
 * Options: --runners N (of each kind), --seed S, --kinds a,b, --policies a,b, --known SHARE (of the techniques, learned
 * before the logs begin), --results FILE (keeps what each runner gave; the next start with that file does only what is missing in
 * it), --summary (only the table of all runners), --write BLOCK (puts what it prints into that block of tests/arena/README.md).
 */
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { writeBlock } from '../helpers/writeBlock.ts';
import { chosenFrom } from './chosenFrom.ts';
import { handOut } from './handOut.ts';
import { policies } from './policies/policies.ts';
import { appendResult, leftOf, readResults, resultsOf } from './resultFile.ts';
import { tableOfAll, tables } from './table.ts';
import type { Result, Task } from './task.ts';
import { kinds } from './truth/kinds.ts';

const page = join(import.meta.dirname, 'README.md');
const workerFile = join(import.meta.dirname, 'worker.ts');

const { values } = parseArgs({
  options: {
    runners: { type: 'string', default: '200' },
    seed: { type: 'string', default: '20260' },
    known: { type: 'string', default: '0' },
    kinds: { type: 'string', default: Object.keys(kinds).join(',') },
    policies: { type: 'string', default: Object.keys(policies).join(',') },
    summary: { type: 'boolean', default: false },
    write: { type: 'string' },
    results: { type: 'string' },
  },
});
const count = Number(values.runners);
const seed = Number(values.seed);
const knownShare = Number(values.known);
const chosen = chosenFrom(values.kinds, kinds);
const titles = chosenFrom(values.policies, policies);
const tasks = Array.from({ length: count }, (_, runner) =>
  chosen.map((kind): Task => ({ kind, runner, seed, knownShare, policies: titles })),
).flat();
const file = values.results;
const done = file === undefined ? [] : readResults(file);
const left = leftOf(tasks, done);
const began = performance.now();
await handOut(workerFile, left, (task: Task, result: Result) => {
  done.push({ task, result });
  if (file !== undefined) appendResult(file, { task, result });
});
const minutes = ((performance.now() - began) / 60_000).toFixed(1);
process.stderr.write(`${left.length} of ${tasks.length} runners in ${minutes} min\n`);
/** What has to be asked for to get the same table; of the kinds and policies, as they are listed. */
const asked = [
  `--runners ${count} --seed ${seed}`,
  ...(knownShare > 0 ? [`--known ${knownShare}`] : []),
  ...(chosen.length < Object.keys(kinds).length ? [`--kinds ${chosen.join(',')}`] : []),
  ...(titles.length < Object.keys(policies).length ? [`--policies "${titles.join(',')}"`] : []),
  ...(values.summary ? ['--summary'] : []),
].join(' ');
const results = resultsOf(tasks, done);
const text = values.summary ? tableOfAll(results, titles) : tables(results, titles);
const block = `${text}\n\n\`npm run arena -- ${asked}\` (${count} runners of each kind, ± standard error)`;
console.log(block);
if (values.write !== undefined) await writeBlock(page, values.write, block);
