import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { env, kill, pid } from 'node:process';

/*
 * Loaded before a program: counts its calls to the file system from the first one that is about the lock, and at one of
 * them ends the process, stops it, or lets the call fail. The variable ROUTEWRIGHT_FAULT says which.
 */

export interface Fault {
  /** Each counted call is written to this file, one a line, before it is made. */
  readonly trace?: string;
  /** Number of the call, from 1. */
  readonly at?: number;
  /**
   * `kill` and `stop` do so before the call. `fail` lets this call fail, `full` this one and all later ones that need
   * room on the disk.
   */
  readonly what?: 'kill' | 'stop' | 'fail' | 'full';
  /** Name of the file that the first counted call is about; left out, of the lock. */
  readonly from?: string;
  /** By how much the clock of the process is wrong, ms. */
  readonly clock?: number;
}

const fault = JSON.parse(env.ROUTEWRIGHT_FAULT ?? '{}') as Fault;
const { appendFileSync } = fs;
const realNow = Date.now;
if (fault.clock !== undefined) Date.now = () => realNow() + fault.clock!;

const names = [
  ...['openSync', 'readFileSync', 'writeFileSync', 'appendFileSync', 'writeSync', 'fsyncSync', 'closeSync'],
  ...['lstatSync', 'statSync', 'fstatSync', 'readdirSync', 'mkdirSync', 'rmSync', 'unlinkSync', 'renameSync'],
  ...['linkSync', 'fchmodSync', 'fchownSync', 'futimesSync', 'utimesSync'],
] as const;
/** Those that need room on the disk. */
const needRoom = /^(?:open|writeFile|appendFile|write|fsync|mkdir|link|rename)Sync$/;

const files = new Map<number, string>();
let count = 0;
let began = false;
let inside = false;

type Call = (...args: unknown[]) => unknown;
const all = fs as unknown as Record<string, Call>;
for (const name of names) {
  const real = all[name]!;
  all[name] = (...args) => {
    // Some of Node's calls make others.
    if (inside) return real.apply(fs, args);
    inside = true;
    try {
      const of = (at: number) =>
        (typeof args[at] === 'number' ? files.get(args[at]) : String(args[at])) ?? '';
      began ||= of(0).endsWith(fault.from ?? 'fold.lock');
      // The program's own code is read in between.
      if (began && !of(0).endsWith('js')) before(name, of(0), /^(?:rename|link)/.test(name) ? of(1) : '');
      const result = real.apply(fs, args);
      if (name === 'openSync') files.set(result as number, of(0));
      return result;
    } finally {
      inside = false;
    }
  };
}
syncBuiltinESMExports();

function before(name: string, target: string, second: string): void {
  count += 1;
  if (fault.trace !== undefined) appendFileSync(fault.trace, `${name} ${target} ${second}\n`);
  const here = count === fault.at;
  if (here && fault.what === 'kill') kill(pid, 'SIGKILL');
  if (here && fault.what === 'stop') kill(pid, 'SIGSTOP');
  const fails = here && fault.what === 'fail';
  const isFull = fault.what === 'full' && count >= (fault.at ?? 0) && needRoom.test(name);
  if (fails || isFull)
    throw Object.assign(new Error('no space left on device'), {
      code: needRoom.test(name) ? 'ENOSPC' : 'EIO',
    });
}
