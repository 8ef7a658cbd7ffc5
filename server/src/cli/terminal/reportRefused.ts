import { sanitizeForTerminal } from '../../text/terminalText.ts';
import { printNotice, type Io } from './io.ts';
import type { LoadedFiles } from '../project/loadFiles.ts';
import { relativeNames } from './paths.ts';

/** Says which files could not be read, and why. */
export function reportRefused({ refused }: LoadedFiles, io: Io): void {
  const nameOf = relativeNames(io.cwd);
  for (const { uri, reason } of refused)
    printNotice(io, `${sanitizeForTerminal(nameOf(uri))} cannot be read: ${reason}.`);
}
