import { mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What a process of ours did. */
export interface Deeds {
  /** Memory at most, in MB. */
  readonly megabytes: number;
  /** Processor time of all its threads, in seconds. */
  readonly cpuSeconds: number;
  /** Programs that it started, each with its arguments. */
  readonly programs: readonly string[];
  /** Real paths of the files that it opened. */
  readonly opened: readonly string[];
  /** Properties that every object has and had not at the start. */
  readonly inherited: readonly string[];
}

export interface Recording {
  /** Arguments for Node, before the script. */
  readonly args: readonly string[];
  deeds(): Deeds;
  remove(): void;
}

/**
 * Loaded before a program: writes down at each end, and five times a second, what it did. Functions are replaced in
 * Node's own modules, so that every library is seen.
 */
const script = String.raw`
const fs = require('node:fs');
const child = require('node:child_process');
const { isMainThread, threadId } = require('node:worker_threads');
const { appendFileSync, realpathSync, writeFileSync } = fs;
const place = process.env.ROUTEWRIGHT_RECORD;
const names = (of) => Reflect.ownKeys(of).map(String);
const roots = [Object.prototype, Array.prototype, Function.prototype, String.prototype, Map.prototype];
const before = roots.map((of) => new Set(names(of)));
const line = (kind, text) => appendFileSync(place + '/lines', JSON.stringify([kind, text]) + '\n');
const note = () => {
  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
  writeFileSync(place + '/usage', JSON.stringify([maxRSS / 1024, (userCPUTime + systemCPUTime) / 1e6]));
  const added = roots.flatMap((of, i) => names(of).filter((name) => !before[i].has(name)));
  writeFileSync(place + '/inherited' + threadId, JSON.stringify(added));
};
const replace = (of, name, seen) => {
  const original = of[name];
  of[name] = function (...args) { seen(args); return original.apply(this, args); };
};
const started = (args) => line('program', [args[0], ...(Array.isArray(args[1]) ? args[1] : [])].map(String).join(' '));
replace(child.ChildProcess.prototype, 'spawn', ([{ file, args }]) => started([file, args]));
for (const name of ['spawnSync', 'execSync', 'execFileSync']) replace(child, name, started);
const opened = ([path]) => {
  if (typeof path === 'number' || (typeof path === 'object' && !(path instanceof URL) && !Buffer.isBuffer(path))) return;
  try { line('opened', realpathSync(path)); } catch {}
};
for (const name of ['open', 'openSync', 'readFile', 'readFileSync', 'createReadStream']) replace(fs, name, opened);
for (const name of ['open', 'readFile']) replace(fs.promises, name, opened);
require('node:module').syncBuiltinESMExports();
setInterval(note, 200).unref();
process.on('exit', note);
note();
`;

function usage(place: string): Pick<Deeds, 'megabytes' | 'cpuSeconds'> {
  const [megabytes, cpuSeconds] = JSON.parse(readFileSync(join(place, 'usage'), 'utf8')) as [number, number];
  return { megabytes, cpuSeconds };
}

/** Prepares to write down what a process does; set `ROUTEWRIGHT_RECORD` to `place` in its environment. */
export function record(): Recording & { readonly env: NodeJS.ProcessEnv } {
  const place = realpathSync(mkdtempSync(join(tmpdir(), 'routewright-record-')));
  const preload = join(place, 'record.cjs');
  writeFileSync(preload, script);
  writeFileSync(join(place, 'lines'), '');
  const lines = (kind: string): string[] =>
    readFileSync(join(place, 'lines'), 'utf8')
      .split('\n')
      .filter((text) => text !== '')
      .map((text) => JSON.parse(text) as [string, string])
      .flatMap(([of, text]) => (of === kind ? [text] : []));
  return {
    args: ['--require', preload],
    env: { ROUTEWRIGHT_RECORD: place },
    deeds: () => ({
      ...usage(place),
      programs: lines('program'),
      opened: [...new Set(lines('opened'))],
      inherited: JSON.parse(readFileSync(join(place, 'inherited0'), 'utf8')) as string[],
    }),
    remove: () => rmSync(place, { recursive: true, force: true }),
  };
}
