/**
 * `npx tsx tests/arena/pooledRun.ts`: newcomers to a route follow the tool for four weeks, with a pool of none, three and ten others'
 * six weeks, who have none, half and all of what is hard about each technique in common with them.
 *
 * Options: --runners N (of each share), --seed S, --results FILE (keeps what each runner gave, a line each; the next start with that
 * file does only what is missing in it), --write (puts the table into tests/arena/README.md).
 */
import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { writeBlock } from '../helpers/writeBlock.ts';
import { handOut } from './handOut.ts';
import type { PooledResult, PooledTask } from './pooledTask.ts';
import { summary } from './table.ts';

const others = [0, 3, 10];
const shares = [
  { share: 0, title: 'nothing' },
  { share: 0.5, title: 'half' },
  { share: 1, title: 'all' },
];

interface Done {
  readonly task: PooledTask;
  readonly result: PooledResult;
}

const { values } = parseArgs({
  options: {
    runners: { type: 'string', default: '200' },
    seed: { type: 'string', default: '41' },
    results: { type: 'string' },
    write: { type: 'boolean', default: false },
  },
});
const [count, seed] = [Number(values.runners), Number(values.seed)];
const file = values.results;
const tasks = Array.from({ length: count }, (_, route) =>
  shares.map(({ share }): PooledTask => ({ seed, route, share, others })),
).flat();
const done: Done[] =
  file === undefined || !existsSync(file)
    ? []
    : readFileSync(file, 'utf8')
        .split('\n')
        .filter((line) => line.endsWith('}'))
        .map((line) => JSON.parse(line) as Done);
const known = new Set(done.map(({ task }) => JSON.stringify(task)));
await handOut(
  join(import.meta.dirname, 'pooledWorker.ts'),
  tasks.filter((task) => !known.has(JSON.stringify(task))),
  (task: PooledTask, result: PooledResult) => {
    done.push({ task, result });
    if (file !== undefined) appendFileSync(file, `${JSON.stringify({ task, result })}\n`);
  },
);

const percent = (of: readonly number[], signed = false): string => {
  const { mean, error } = summary(of);
  const sign = mean < 0 ? '−' : signed ? '+' : '';
  return `${sign}${(100 * Math.abs(mean)).toFixed(1)} ± ${(100 * error).toFixed(1)}`;
};

/** Share of the distance from no pool to the true rates that is closed, by the means of all runners. */
const closed = (from: readonly number[], to: readonly number[]): string => {
  const [before, after] = [summary(from).mean, summary(to).mean];
  // Without a minus before 0.
  return `${Math.round((100 * (after - before)) / (1 - before)) + 0} %`;
};

const wanted = new Set(tasks.map((task) => JSON.stringify(task)));
const lines = shares.flatMap(({ share, title }) => {
  const results = done
    .filter(({ task }) => task.share === share && wanted.has(JSON.stringify(task)))
    .map(({ result }) => result)
    .filter(({ ranked }) => ranked > 0);
  const alone = results.map(({ withOthers, ranked }) => withOthers[0]! / ranked);
  const row = (name: string, of: (result: PooledResult) => number): string => {
    const areas = results.map((result) => of(result) / result.ranked);
    const differences = areas.map((area, i) => area - alone[i]!);
    return `| ${title} | ${name} | ${percent(areas)} | ${percent(differences, true)} | ${closed(alone, areas)} |`;
  };
  return [
    `| ${title} | nobody | ${percent(alone)} | – | – |`,
    ...others.slice(1).map((many, i) => row(`${many} others`, ({ withOthers }) => withOthers[i + 1]!)),
    row('what is common, known exactly', ({ commonKnown }) => commonKnown),
  ];
});
const asked = `npx tsx tests/arena/pooledRun.ts --runners ${count} --seed ${seed}`;
const block = `| in common | the pool is of | area | against nobody | distance closed |
| --- | --- | ---: | ---: | ---: |
${lines.join('\n')}

\`${asked}\` (${count} runners of each share, mean ± standard error; the area is in percent of that of the true rates ranked alike)`;
console.log(block);
if (values.write) await writeBlock(join(import.meta.dirname, 'README.md'), 'pooled', block);
