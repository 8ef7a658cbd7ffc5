import { spawn } from 'node:child_process';
import { record, type Deeds } from './record.ts';

/** How a process of ours ended, and what it did until then. */
export interface Measured extends Deeds {
  /** Exit code; the signal's name where the process was ended. */
  readonly code: number | string;
  readonly out: string;
  readonly err: string;
  readonly seconds: number;
}

export interface MeasuredOptions {
  readonly cwd: string;
  readonly env?: NodeJS.ProcessEnv;
  /** After so many seconds the process is ended. */
  readonly limit: number;
}

/** Runs a program of ours in a process of its own, ends it at a time limit, and says what it did and took. */
export async function measured(
  args: readonly string[],
  { cwd, env, limit }: MeasuredOptions,
): Promise<Measured> {
  const recording = record();
  const began = performance.now();
  const child = spawn(process.execPath, [...recording.args, ...args], {
    cwd,
    env: { ...process.env, ...env, ...recording.env },
  });
  child.stdin.end();
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString()));
  child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
  const timer = setTimeout(() => child.kill('SIGKILL'), limit * 1000);
  const code = await new Promise<number | string>((done) =>
    child.on('close', (status, signal) => done(status ?? signal ?? 'unknown')),
  );
  clearTimeout(timer);
  const seconds = (performance.now() - began) / 1000;
  const deeds = recording.deeds();
  recording.remove();
  return { code, out, err, seconds, ...deeds };
}
