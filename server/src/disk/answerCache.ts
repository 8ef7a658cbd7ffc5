/**
 * Answers that took long to work out, kept in files from one process to the next.
 *
 * An answer is kept under a hash of the program's build and of all that it was worked out from, so it is never out of date, only
 * unused. A file that is damaged, or cannot be read or written, counts as not there: the answer is worked out again.
 */
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import { personFolder, type Environment } from './personFolders.ts';

/** The folder of kept answers. */
export function answersFolder(env: Environment, platform: NodeJS.Platform, home?: string): string {
  return join(personFolder('cache', env, platform, home), 'answers');
}

/** Answers that are kept; the oldest go first. */
const mostKept = 64;

/** Bytes of an answer; a larger one is not kept. */
const mostBytes = 4_000_000;

const hashBytes = 32;

function sha256(...parts: readonly Uint8Array[]): Buffer {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest();
}

/**
 * The answer that is kept for this input, else the one that `work` gives, which is kept.
 *
 * @param build what tells this program from every other build of it
 * @param input everything that the answer depends on, as plain data
 */
export function keptAnswer<T>(folder: string, build: string, input: unknown, work: () => T): T {
  const file = fileOf(folder, build, input);
  if (file === undefined) return work();
  const kept = attempt(() => read(file));
  if (kept !== undefined) return kept.answer as T;
  const answer = work();
  attempt(() => write(folder, file, answer));
  return answer;
}

/** The answer that is kept for this input; undefined where there is none. */
export function findAnswer<T>(folder: string, build: string, input: unknown): T | undefined {
  const file = fileOf(folder, build, input);
  return file === undefined ? undefined : (attempt(() => read(file))?.answer as T | undefined);
}

/** Keeps an answer for this input, in the place of an earlier one. */
export function keepAnswer(folder: string, build: string, input: unknown, answer: unknown): void {
  const file = fileOf(folder, build, input);
  if (file !== undefined) attempt(() => write(folder, file, answer));
}

/** Undefined where the input is no plain data. */
function fileOf(folder: string, build: string, input: unknown): string | undefined {
  return attempt(() =>
    join(folder, sha256(Buffer.from(`${build} ${process.version}`), serialize(input)).toString('hex')),
  );
}

/** What the file system or a damaged file refuses leaves only the cache unused. */
function attempt<T>(action: () => T): T | undefined {
  try {
    return action();
  } catch {
    return undefined;
  }
}

/** The answer in a file; undefined where its hash is not the one of its bytes. */
function read(file: string): { readonly answer: unknown } | undefined {
  const bytes = readFileSync(file);
  const payload = bytes.subarray(hashBytes);
  if (!sha256(payload).equals(bytes.subarray(0, hashBytes))) return undefined;
  return { answer: deserialize(payload) };
}

/** Puts an answer in its place whole, so that a reader never finds a part of it. Logs are private, and so is what follows from them. */
function write(folder: string, file: string, answer: unknown): void {
  const payload = serialize(answer);
  if (payload.length > mostBytes) return;
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const made = `${file}.${process.pid}.new`;
  writeFileSync(made, Buffer.concat([sha256(payload), payload]), { mode: 0o600 });
  renameSync(made, file);
  forgetOldest(folder);
}

function forgetOldest(folder: string): void {
  const names = readdirSync(folder);
  if (names.length <= mostKept) return;
  const aged = names.map((name) => ({ path: join(folder, name), age: statSync(join(folder, name)).mtimeMs }));
  aged.sort((a, b) => a.age - b.age);
  for (const { path } of aged.slice(0, names.length - mostKept)) rmSync(path, { force: true });
}
