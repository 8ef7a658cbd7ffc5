import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';

/** The editor's date in all of these tests; the sample's logs end three days before. */
export const TODAY = '2026-11-09';

/** The fields of a row of `routewright rank --json` that these tests read; rates as fractions. */
export interface PrintedRow {
  readonly technique: string;
  readonly gainPerHour: number;
  readonly low: number;
  readonly high: number;
  readonly blocks: number;
  readonly breakEven: number;
  readonly practiceNow: { readonly mean: number };
  readonly runNow: { readonly mean: number };
  readonly runThen: { readonly mean: number };
  readonly reason: string;
}

export interface PrintedRanking {
  readonly asOf: string;
  readonly rows: readonly PrintedRow[];
  readonly skipped: readonly { readonly technique: string; readonly reason: string }[];
  readonly standings: readonly { readonly technique: string; readonly standing: string }[];
}

const LIMIT_MS = 120_000;

/**
 * The ranking that the command line prints for a route on {@link TODAY}.
 *
 * @param root the folder of the built project
 * @throws where the command line fails
 */
export async function printedRanking(root: string, route: string): Promise<PrintedRanking> {
  const program = join(root, 'server', 'dist', 'cli.js');
  const { stdout } = await promisify(execFile)(
    process.execPath,
    [program, 'rank', route, '--json', '--as-of', TODAY],
    // Inside the desktop program, this process is Electron.
    { timeout: LIMIT_MS, env: { ...process.env, ELECTRON_RUN_AS_NODE: '1' } },
  );
  return JSON.parse(stdout) as PrintedRanking;
}
