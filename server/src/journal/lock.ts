import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { toFailure, type Failure } from './failure.ts';

/** A lock whose owner did not say for so long that it is alive is taken over. Milliseconds. */
const lockTimeout = 5_000;

/** Whether the lock is still ours. */
export type IsLockHeld = () => boolean;

/**
 * Does some work while nobody else flushes the same journal. The lock lies in the journal's folder, so that no file
 * appears next to the user's log.
 *
 * @param patience for how long another owner is waited for, ms
 * @returns what the work returns; a failure with the code `ELOCKED` where another owner kept the lock
 */
export async function withLock<T extends object | undefined>(
  folder: string,
  patience: number,
  work: (held: IsLockHeld) => Promise<T> | T,
): Promise<T | Failure> {
  let held = true;
  const owner = join(folder, 'fold.owner');
  const token = `${process.pid} ${randomBytes(8).toString('hex')}`;
  let release: () => Promise<void>;
  const pause = 100;
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    // Loaded only when it is needed: otherwise each start would wait for it.
    const { default: lockfile } = await import('proper-lockfile');
    release = await lockfile.lock(folder, {
      lockfilePath: join(folder, 'fold.lock'),
      realpath: false,
      stale: lockTimeout,
      update: lockTimeout / 4,
      retries: { retries: Math.ceil(patience / pause), factor: 1, minTimeout: pause, maxTimeout: pause },
      onCompromised: () => void (held = false),
    });
  } catch (error) {
    return toFailure(error);
  }
  try {
    writeFileSync(owner, token, { mode: 0o600 });
    // A process that took the lock over while this one was suspended has written its own token there.
    return await work(() => held && readFileSync(owner, 'utf8') === token);
  } catch (error) {
    return toFailure(error);
  } finally {
    await release().catch(() => undefined);
  }
}
