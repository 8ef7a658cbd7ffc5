import { realpathSync } from 'node:fs';
import { basename } from 'node:path';
import { discardOld, keepOld, lateBytes, replaceFile } from './replaceFile.ts';
import { readStanding } from './standingFile.ts';

/** What came of a replacement. */
export interface ReplacedText {
  /** False where the file did not have the text that it was to have, or was changed meanwhile. */
  readonly replaced: boolean;
  /** Sentences about what a person has to see to. */
  readonly notices: readonly string[];
}

/**
 * Replaces a file's text whole or not at all, and only where the file still has the bytes given. Links are followed. Throws what
 * the system says.
 *
 * @param expected the bytes that the new one was made from
 */
export async function replaceText(path: string, expected: Uint8Array, text: string): Promise<ReplacedText> {
  const before = readStanding(realpathSync.native(path));
  if (!before.bytes.equals(expected)) return { replaced: false, notices: [] };
  const done = replaceFile(before, text);
  const name = basename(path);
  if (!('bytes' in done)) return { replaced: false, notices: keptNotices(name, done.keptAs) };
  const late = await lateBytes(done, () => Promise.resolve());
  const notices = [...notKeptNotices(name, done.notKept), ...(late ? keptNotices(name, keepOld(done)) : [])];
  discardOld(done);
  return { replaced: true, notices };
}

/** Says what another program wrote that could not be put into a file. */
export function keptNotices(name: string, keptAs: string | undefined): string[] {
  if (keptAs === undefined) return [];
  return [
    `Another program wrote to ${name} at the same time. What it wrote is kept as ${keptAs}: take over by hand what ${name} lacks, then remove it.`,
  ];
}

/** Says what a file lost when it was replaced. */
export function notKeptNotices(name: string, notKept: readonly string[]): string[] {
  return notKept.length === 0 ? [] : [`${name} was written as a new file: ${notKept.join('; ')}.`];
}
