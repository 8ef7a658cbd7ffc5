import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createRandom } from '../../samples/simulation/random.ts';
import { removeFolder } from './folder.ts';
import { makePractice, makeRuns } from './logs.ts';
import { makeRoute } from './route.ts';
import { byTurns } from './samples.ts';
import { cliBundle } from './servers.ts';
import { row, type Row } from './table.ts';

const techniques = 200;
/** Techniques that each runner practises, and how often. */
const practised = 20;
const blocks = 120;
const eveningsOfRuns = 6;
const routeFile = 'lanternfall.route.yaml';
const preload = join(import.meta.dirname, 'costOfProcess.cjs');
const bareScript = join(import.meta.dirname, 'readAll.mjs');

/**
 * A folder with a route and the logs of many runners in folders of their own. Each practises techniques that follow each other in the
 * route. The same seed gives the same files.
 */
export function folderOfRunners(seed: number, runners: number): string {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-bench-'));
  const random = createRandom(seed);
  const route = makeRoute(seed, { techniques });
  writeFileSync(join(folder, routeFile), route.text);
  for (let i = 0; i < runners; i += 1) {
    const own = join(folder, `runners/runner-${i}`);
    mkdirSync(own, { recursive: true });
    const from = random.whole(0, techniques - practised);
    const some = { ...route, techniques: route.techniques.slice(from, from + practised) };
    const write = (kind: string, text: string): void =>
      writeFileSync(
        join(own, `lanternfall.${kind}.yaml`),
        text.replace(/^route: .*$/m, `route: ../../${routeFile}\nrunner: runner-${i}`),
      );
    write('practice', makePractice(seed + 2 * i, some, routeFile, blocks));
    write('runs', makeRuns(seed + 2 * i + 1, some, routeFile, eveningsOfRuns));
  }
  return folder;
}

/** What a process takes from its start to its end. */
interface Cost {
  /** Milliseconds, as a clock shows them. */
  readonly elapsed: number;
  /** Milliseconds of processor time of all its threads. */
  readonly processor: number;
  /** Megabytes at its highest. */
  readonly memory: number;
}

function costOf(folder: string, args: readonly string[]): Cost {
  const from = performance.now();
  const { status, stderr, output } = spawnSync(process.execPath, ['--require', preload, ...args], {
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
  });
  const elapsed = performance.now() - from;
  if (status !== 0) throw new Error(`${args.join(' ')} failed: ${stderr}`);
  const [kilobytes, microseconds] = output[3]!.split(' ').map(Number);
  return { elapsed, processor: microseconds! / 1000, memory: kilobytes! / 1024 };
}

/**
 * Measures, by turns, the command that makes a pool of the logs of many runners, with one thread and with two, and the bare `yaml`
 * library that reads the same files; each in a whole process. On a machine that does other things meanwhile only the processor time says
 * how long it takes.
 */
export async function measurePooling(seed: number, runners: number, rounds: number): Promise<Row[]> {
  const folder = folderOfRunners(seed, runners);
  const pool = (threads: number) => [cliBundle, 'pool', '.', '--json', '--threads', String(threads)];
  const costs: Record<'one' | 'two' | 'bare', Cost[]> = { one: [], two: [], bare: [] };
  const take = (name: keyof typeof costs, args: readonly string[]): readonly number[] => {
    costs[name].push(costOf(folder, args));
    return [];
  };
  try {
    await byTurns(rounds, {
      one: () => take('one', pool(1)),
      two: () => take('two', pool(2)),
      bare: () => take('bare', [bareScript]),
    });
    const line = (what: string, unit: Row['unit'], which: 'one' | 'two', of: keyof Cost): Row =>
      row(
        what,
        unit,
        costs[which].map((cost) => cost[of]),
        'a process that reads the same files with the `yaml` library',
        costs.bare.map((cost) => cost[of]),
      );
    const what = `\`pool\` of ${runners} runners, ${techniques} techniques, ${practised} practised by each`;
    return [
      line(`${what}: one thread`, 'ms', 'one', 'elapsed'),
      line('… two threads', 'ms', 'two', 'elapsed'),
      line('… processor time, one thread', 'ms', 'one', 'processor'),
      line('… two threads', 'ms', 'two', 'processor'),
      line('… memory at its highest, one thread', 'MB', 'one', 'memory'),
      line('… two threads', 'MB', 'two', 'memory'),
    ];
  } finally {
    removeFolder(folder);
  }
}
