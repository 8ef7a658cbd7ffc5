import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll } from 'vitest';
import type { Io } from '../../server/src/cli/terminal/io.ts';
import { runCommandLine } from '../../server/src/cli/run.ts';
import { commands } from '../../server/src/cli/commandList.ts';
import { parseMoment } from '../../server/src/text/calendar.ts';
import { afterAllLogs } from '../helpers/lastDay.ts';

export { practice, route } from '../helpers/smallRoute.ts';

export const repository = join(import.meta.dirname, '../..');
export const samples = join(repository, 'samples');

const made: string[] = [];
/** Where answers are kept, made for the first of them. */
let answers: string | undefined;
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

/** A folder on the disk with these files in it, removed when the tests of the file are done. */
export function folderOf(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'routewright-cli-'));
  made.push(folder);
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
  return folder;
}

/** A folder as the current one of a command whose notices nobody reads. */
export function placeOf(cwd: string): Pick<Io, 'cwd' | 'env' | 'stderr'> {
  return { cwd, env: {}, stderr: { write: () => undefined, isTTY: false } };
}

export function textOf(folder: string, name: string): string {
  return readFileSync(join(folder, name), 'utf8');
}

export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export interface Terminal {
  /** Whether stdout and stderr are terminals. */
  readonly isTTY?: boolean;
  readonly columns?: number;
  readonly env?: Io['env'];
  /** What the runner's clock shows, such as `2026-11-28T19:30`: the command then answers for today. */
  readonly now?: string;
}

/** The arguments with `--as-of last` where a command takes a date and none is given: the logs of tests do not grow. */
function withFixedDay(argv: readonly string[]): readonly string[] {
  const command = commands.find(({ name }) => name === argv[0]);
  const dated = command?.options.some(({ name }) => name === 'as-of') ?? false;
  return dated && !argv.some((word) => word.startsWith('--as-of')) ? [...argv, '--as-of', 'last'] : argv;
}

/**
 * Runs a command in this process: the same code as in its own, without the time to start one. Where `terminal.now` is
 * not given, a command that takes a date answers for the day after the last log entry.
 */
export async function routewright(
  cwd: string,
  argv: readonly string[],
  terminal: Terminal = {},
): Promise<Said> {
  let out = '';
  let err = '';
  const isTTY = terminal.isTTY ?? false;
  const io: Io = {
    cwd,
    // What was asked before in the same test file is not worked out again, as in the built program.
    build: 'tests',
    env: { ROUTEWRIGHT_CACHE_HOME: (answers ??= folderOf({})), ...terminal.env },
    stdout: { write: (text) => void (out += text), isTTY, columns: terminal.columns },
    stderr: { write: (text) => void (err += text), isTTY },
    now: () => (terminal.now === undefined ? afterAllLogs : parseMoment(terminal.now)!),
  };
  const words = terminal.now === undefined ? withFixedDay(argv) : argv;
  const code = await runCommandLine(words, io, () =>
    Promise.reject(new Error('No server is started in this test.')),
  );
  return { code, out, err };
}
