/**
 * `npx tsx tests/arena/coverageRun.ts`: how often the ranges of the tool's forecasts hold what becomes true, by kind of runner.
 *
 * Options: --runners N (of each kind), --seed S, --kinds a,b, --write (puts the tables into tests/arena/README.md).
 */
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { writeBlock } from '../helpers/writeBlock.ts';
import { chosenFrom } from './chosenFrom.ts';
import { coverageTables } from './coverageTable.ts';
import type { CoverageTask } from './coverageWorker.ts';
import type { Told } from './forecastCoverage.ts';
import { handOut } from './handOut.ts';
import { kinds } from './truth/kinds.ts';

const { values } = parseArgs({
  options: {
    runners: { type: 'string', default: '40' },
    seed: { type: 'string', default: '5000' },
    kinds: { type: 'string', default: Object.keys(kinds).join(',') },
    write: { type: 'boolean', default: false },
  },
});
const [count, seed] = [Number(values.runners), Number(values.seed)];
const chosen = chosenFrom(values.kinds, kinds);
const tasks = Array.from({ length: count }, (_, runner) =>
  chosen.map((kind): CoverageTask => ({ kind, seed: seed + runner })),
).flat();
const told = new Map(chosen.map((kind): [string, Told[][]] => [kind, []]));
const began = performance.now();
await handOut(
  join(import.meta.dirname, 'coverageWorker.ts'),
  tasks,
  ({ kind, seed: own }: CoverageTask, result: { readonly told: Told[] }) => {
    // By number of the runner, so that sums do not depend on who is ready first.
    told.get(kind)![own - seed] = result.told;
  },
);
const minutes = ((performance.now() - began) / 60_000).toFixed(1);
process.stderr.write(`${tasks.length} runners in ${minutes} min\n`);
const asked = [
  `--runners ${count} --seed ${seed}`,
  ...(chosen.length < Object.keys(kinds).length ? [`--kinds ${chosen.join(',')}`] : []),
].join(' ');
const block = `${coverageTables(Object.fromEntries(told))}

\`npx tsx tests/arena/coverageRun.ts ${asked}\` (${count} runners of each kind, ± standard error)`;
console.log(block);
if (values.write) await writeBlock(join(import.meta.dirname, 'README.md'), 'coverage', block);
