/** The steps of the action check-routes, run as a runner does: by environment variables, in a repository. */
import { execFile } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { execPath } from 'node:process';

export const root = join(import.meta.dirname, '../..');
export const action = join(root, '.github/actions/check-routes');

export interface Step {
  readonly code: number;
  /** What the runner reads line by line. */
  readonly log: string;
  /** The job summary. */
  readonly summary: string;
  readonly outputs: Readonly<Record<string, string>>;
}

/** A folder for the files that the runner hands to a step. */
export function runnerFolder(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'routewright-runner-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

/** @param script of the action, such as `check.mjs` */
export function runStep(
  script: string,
  temporary: string,
  inputs: Readonly<Record<string, string>>,
): Promise<Step> {
  const summary = join(temporary, 'summary.md');
  const output = join(temporary, 'output');
  for (const file of [summary, output]) rmSync(file, { force: true });
  const env = {
    PATH: process.env['PATH'],
    HOME: temporary,
    RUNNER_TEMP: temporary,
    GITHUB_STEP_SUMMARY: summary,
    GITHUB_OUTPUT: output,
    ...inputs,
  };
  const read = (file: string): string => (existsSync(file) ? readFileSync(file, 'utf8') : '');
  return new Promise((resolve) => {
    execFile(execPath, [join(action, script)], { env, cwd: temporary }, (error, out, err) => {
      const code = error === null ? 0 : typeof error.code === 'number' ? error.code : -1;
      resolve({ code, log: `${out}${err}`, summary: read(summary), outputs: readOutputs(read(output)) });
    });
  });
}

/** What a runner makes of the file that GITHUB_OUTPUT names. */
function readOutputs(text: string): Record<string, string> {
  const outputs: Record<string, string> = {};
  const lines = text.split('\n');
  for (let at = 0; at < lines.length; at++) {
    const [, name, end] = /^(.+?)<<(.+)$/.exec(lines[at]!) ?? [];
    if (name === undefined) continue;
    const last = lines.indexOf(end!, at + 1);
    outputs[name] = lines.slice(at + 1, last).join('\n');
    at = last;
  }
  return outputs;
}
