import { type Io, printNotice } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';
import type { LoadedFiles } from './loadFiles.ts';

/** Reports which files could not be read, and why. */
export function reportRefused({ refused }: LoadedFiles, io: Io): void {
  const nameOf = relativeNames(io.cwd);
  for (const { uri, reason } of refused) printNotice(io, `${nameOf(uri)} cannot be read: ${reason}.`);
}
