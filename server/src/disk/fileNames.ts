import { createHash, randomBytes } from 'node:crypto';
import { linkSync, lstatSync, renameSync, unlinkSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { codeOf } from './errorCode.ts';

/** What a file that is being replaced is called meanwhile, in the same folder. */
export interface ReplacementNames {
  /** Of the new text. */
  readonly fresh: string;
  /** Of the file that stood there. It tells which bytes that file had when it was read. */
  readonly old: string;
}

const pattern = /^\.(.+)\.([0-9a-f]{8}-([0-9a-f]{32}))\.(new|old)$/;

export function replacementNames(path: string, bytes: Uint8Array): ReplacementNames {
  const stem = `.${basename(path)}.${randomBytes(4).toString('hex')}-${hashOf(bytes)}`;
  const named = (ending: string) => join(dirname(path), `${stem}.${ending}`);
  return { fresh: named('new'), old: named('old') };
}

/** A name that a replacement uses or left behind. */
export interface ReplacementName {
  readonly name: string;
  /** The name of the file that it is about. */
  readonly of: string;
  /** The same for both names of one replacement. */
  readonly id: string;
  /** Of the bytes that the file had; see {@link hashOf}. */
  readonly hash: string;
  readonly isOld: boolean;
}

/** Those of the names in a folder that replacements use or left behind. */
export function replacementNamesIn(names: readonly string[]): ReplacementName[] {
  return names.flatMap((name): ReplacementName[] => {
    const [, of, id, hash, kind] = pattern.exec(name) ?? [];
    return of === undefined || id === undefined || hash === undefined
      ? []
      : [{ name, of, id, hash, isOld: kind === 'old' }];
  });
}

export function hashOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex').slice(0, 32);
}

/** What the system says of a loss of hard links, where a file system has none. */
const noLinks = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK', 'ENOSPC', 'EDQUOT', 'EIO']);

/**
 * Gives a file another name, and never writes over a file of that name. A file system without hard links is asked
 * first whether the name is free; there a program that takes it in between is overwritten.
 *
 * @returns whether it has the name now: false where a file of that name exists, or the file itself is gone
 */
export function giveName(from: string, to: string): boolean {
  try {
    linkSync(from, to);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'EEXIST' || code === 'ENOENT') return false;
    if (!noLinks.has(code)) throw error;
    if (lstatSync(to, { throwIfNoEntry: false })) return false;
    renameSync(from, to);
    return true;
  }
  remove(from);
  return true;
}

/** Whether two names are of one file. */
export function isSameFile(one: string, other: string): boolean {
  const [a, b] = [one, other].map((path) => lstatSync(path, { bigint: true, throwIfNoEntry: false }));
  return a !== undefined && a.ino === b?.ino && a.dev === b.dev;
}

/**
 * Gives a file a name beside another, under which no program reads it and a person finds it: `NAME.conflict-1`.
 *
 * @returns that name; undefined where the file itself is gone
 */
export function keepBeside(from: string, path: string): string | undefined {
  for (let number = 1; lstatSync(from, { throwIfNoEntry: false }); number++) {
    const beside = `${path}.conflict-${number}`;
    if (giveName(from, beside)) return basename(beside);
  }
  return undefined;
}

/** Removes a name. One that is left behind is removed the next time. */
export function remove(path: string): void {
  try {
    unlinkSync(path);
  } catch {
    // Nothing depends on it.
  }
}
