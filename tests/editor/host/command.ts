import { spawn } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/** The exit code and the output of a finished command. */
export interface CommandResult {
  /** The exit code; 1 where a signal or the time limit ended it, 127 where it could not be started. */
  readonly code: number;
  /** Both output streams together, in the order in which they arrived. */
  readonly output: string;
}

/**
 * Runs a command, waits for its end and collects its output. Never rejects: a command that cannot be started gives code
 * 127 and the reason as output.
 *
 * @param limit time limit in milliseconds, after which the command is killed
 */
export function runCommand(
  program: string,
  args: readonly string[],
  options: { readonly cwd?: string; readonly env?: NodeJS.ProcessEnv; readonly limit: number },
): Promise<CommandResult> {
  return new Promise((resolve) => {
    const child = spawn(program, args, {
      cwd: options.cwd,
      env: options.env ?? process.env,
      stdio: ['ignore', 'pipe', 'pipe'],
      timeout: options.limit,
      killSignal: 'SIGKILL',
    });
    let output = '';
    const keep = (chunk: Buffer): void => {
      output += chunk.toString('utf8');
    };
    child.stdout.on('data', keep);
    child.stderr.on('data', keep);
    child.on('error', (error) => resolve({ code: 127, output: `${output}${error.message}` }));
    child.on('close', (code) => resolve({ code: code ?? 1, output }));
  });
}

/** The first of `names` that is an executable file in a folder of PATH, as an absolute path. */
export function findProgram(...names: readonly string[]): string | undefined {
  const folders = (process.env['PATH'] ?? '').split(delimiter).filter((folder) => folder !== '');
  for (const name of names) {
    for (const folder of folders) {
      const candidate = join(folder, name);
      if (isExecutable(candidate)) return candidate;
    }
  }
  return undefined;
}

/** Whether the file exists and this user may execute it. */
export function isExecutable(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The last `count` lines of a command's output, for an error message. */
export function lastLines(output: string, count: number): string {
  return output.trimEnd().split('\n').slice(-count).join('\n');
}
