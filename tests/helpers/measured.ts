import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface Measured {
  /** Exit code; the signal's name where the process was ended. */
  readonly code: number | string;
  readonly out: string;
  readonly err: string;
  readonly seconds: number;
  /** Memory at most, in MB. */
  readonly megabytes: number;
}

export interface MeasuredOptions {
  readonly cwd: string;
  readonly env?: NodeJS.ProcessEnv;
  readonly input?: string;
  /** After so many seconds the process is ended. */
  readonly limit: number;
}

/** Runs a program of ours in a process of its own, ends it at a time limit, and says how much memory it took. */
export async function measured(
  args: readonly string[],
  { cwd, env, input, limit }: MeasuredOptions,
): Promise<Measured> {
  const place = mkdtempSync(join(tmpdir(), 'routewright-measured-'));
  const note = join(place, 'memory');
  const preload = join(place, 'preload.cjs');
  writeFileSync(
    preload,
    `const { writeFileSync } = require('node:fs');
const { isMainThread } = require('node:worker_threads');
const note = () => writeFileSync(${JSON.stringify(note)}, String(process.resourceUsage().maxRSS));
if (isMainThread) { setInterval(note, 200).unref(); process.on('exit', note); }
`,
  );
  const began = performance.now();
  const child = spawn(process.execPath, ['--require', preload, ...args], {
    cwd,
    env: { ...process.env, ...env },
  });
  child.stdin.end(input ?? '');
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
  const megabytes = Number(readFileSync(note, 'utf8')) / 1024;
  rmSync(place, { recursive: true, force: true });
  return { code, out, err, seconds, megabytes };
}
