import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { removeFolder } from './folder.ts';
import { makePractice } from './logs.ts';
import { makeRoute } from './route.ts';
import { byTurns, timed } from './samples.ts';
import { cliBundle } from './servers.ts';
import type { Row } from './table.ts';

const lines = 60;
/** One route of every `logEvery` has a practice log, of `blocks` blocks. */
const logEvery = 5;
const blocks = 20;

/** A folder of small routes, some of them with a log. */
export function folderOfRoutes(seed: number, routes: number): string {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-bench-'));
  for (let i = 0; i < routes; i += 1) {
    const route = makeRoute(seed + i, { lines });
    const name = `lanternfall-${i}`;
    writeFileSync(join(folder, `${name}.route.yaml`), route.text);
    if (i % logEvery > 0) continue;
    const log = makePractice(seed + i, route, `${name}.route.yaml`, blocks);
    writeFileSync(join(folder, `${name}.practice.yaml`), log);
  }
  return folder;
}

/** Runs Node with these arguments in a folder and waits for its end. */
function runIn(folder: string, args: readonly string[]): void {
  const { status, stderr, error } = spawnSync(process.execPath, args, {
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  // 1: hints and warnings were found, as they are in any generated route.
  if (error || (status !== 0 && status !== 1)) throw new Error(`${args.join(' ')} failed: ${stderr}`);
}

/**
 * Measures, by turns, the command line that checks a folder and the bare `yaml` library that parses its files; each in
 * a whole process.
 */
export async function measureChecking(seed: number, routes: number, rounds: number): Promise<Row[]> {
  const folder = folderOfRoutes(seed, routes);
  try {
    const bare = join(import.meta.dirname, 'parseAll.mjs');
    const samples = await byTurns(rounds, {
      check: () => timed(() => runIn(folder, [cliBundle, 'check', '--as-of', 'last'])),
      bare: () => timed(() => runIn(folder, [bare])),
    });
    return [
      {
        what: `\`check\` of a folder of ${routes.toLocaleString('en')} routes of ${lines} lines, every fifth with a log`,
        unit: 'ms',
        own: samples.check,
        other: { name: 'a process that parses the same files with the `yaml` library', sample: samples.bare },
      },
    ];
  } finally {
    removeFolder(folder);
  }
}
