import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { countRunners, lastDayOf, type RunnerThreads } from '../../server/src/cli/pool/countRunners.ts';
import type { CountingRoute, RunnerCount, RunnerTask } from '../../server/src/cli/pool/runnerTask.ts';
import { uriOf } from '../../server/src/cli/terminal/paths.ts';
import { formatDate, parseMoment } from '../../server/src/text/calendar.ts';
import { programOf } from '../helpers/commandLine.ts';
import { poolRepository, poolRouteName, poolRouteText } from '../helpers/poolRunners.ts';
import { folderOf } from './place.ts';

const seeds = Array.from({ length: 20 }, (_, i) => i + 1);
const folder = folderOf({
  ...poolRepository(seeds),
  'runners/few/lanternfall.practice.yaml': `route: ../../${poolRouteName}\nrunner: Few\nsessions: []\n`,
});
const route: CountingRoute = {
  route: uriOf(join(folder, poolRouteName)),
  texts: { [uriOf(join(folder, poolRouteName))]: poolRouteText },
  within: [uriOf(folder)],
  asOf: parseMoment('2026-11-30')!.date,
};
const task = (name: string, runner: string): RunnerTask => ({
  runner,
  files: [{ uri: uriOf(join(folder, `runners/${name}/lanternfall.practice.yaml`)), kind: 'practice' }],
});
const tasks = [
  ...seeds.map((seed) => task(`r${seed}`, `Quillon-${seed}`)),
  task('few', 'Few'),
  task('gone', 'Gone'),
];

/** The worker, bundled as in the command line. */
let script: string;
let alone: RunnerCount[];
const none: RunnerThreads = { threads: 1, minRunners: 1 };
const quiet = (): void => undefined;

beforeAll(async () => {
  script = await programOf('server/src/cli/pool/runnerWorker.ts', folderOf({}));
  alone = await countRunners(tasks, route, quiet, none);
  expect(alone.filter(({ contribution }) => contribution !== undefined)).toHaveLength(seeds.length);
});

describe('runners counted by threads', () => {
  test.each([2, 3])('come to the same, in the order of the tasks: %i threads', async (threads) => {
    const done: number[] = [];
    const counts = await countRunners(tasks, route, (count, of) => done.push(count) && expect(of).toBe(22), {
      threads,
      minRunners: 1,
      script,
    });
    expect(counts).toStrictEqual(alone);
    expect(done[0]).toBe(0);
    expect(done.at(-1)).toBe(tasks.length);
    expect(done).toEqual([...done].sort((a, b) => a - b));
  });

  test('have the same last day', async () => {
    const day = await lastDayOf(tasks, { ...route, asOf: Infinity }, quiet, none);
    expect(formatDate(day!)).toMatch(/^2026-/);
    expect(
      await lastDayOf(tasks, { ...route, asOf: Infinity }, quiet, { threads: 2, minRunners: 1, script }),
    ).toBe(day);
    expect(await lastDayOf([task('few', 'Few')], route, quiet, none)).toBeUndefined();
  });

  test('are counted anew where the route is another one', async () => {
    const other = {
      ...route,
      texts: { [route.route]: poolRouteText.replaceAll('crate-vault', 'box-vault') },
    };
    const threads = { threads: 2, minRunners: 1, script };
    const counts = await countRunners(tasks, other, quiet, threads);
    expect(counts).toStrictEqual(await countRunners(tasks, other, quiet, none));
    expect(counts).not.toEqual(alone);
  });
});

describe('a thread that fails', () => {
  test.each([
    ['is not there', undefined],
    ['cannot be loaded', () => 'throw new Error("Out of luck.");'],
    [
      'ends in the midst of its work',
      () =>
        `import { parentPort } from 'node:worker_threads';\nparentPort.on('message', ({ id }) => id === 2 && process.exit(1));\nawait import(${JSON.stringify(pathToFileURL(script).href)});\n`,
    ],
  ])('loses nothing: one that %s', async (_, program) => {
    const failing = join(folderOf({}), 'worker.mjs');
    if (program !== undefined) writeFileSync(failing, program());
    const counts = await countRunners(tasks, route, quiet, { threads: 2, minRunners: 1, script: failing });
    expect(counts).toStrictEqual(alone);
  });
});
