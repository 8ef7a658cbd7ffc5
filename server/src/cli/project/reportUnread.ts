import { type Io, printNotice } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';
import type { LoadedFiles } from './loadFiles.ts';

/** Reports which of the selected files were not read, and why: for a command that reports no other error in them. */
export function reportUnread(loaded: LoadedFiles, io: Io): void {
  const nameOf = relativeNames(io.cwd);
  for (const { uri, reading } of loaded.select().files)
    if (reading.unread)
      for (const { message } of reading.problems) printNotice(io, `${nameOf(uri)}: ${message}`);
}
