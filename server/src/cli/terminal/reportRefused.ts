import { plainText } from '../../text/terminalText.ts';
import { tell, type Io } from './io.ts';
import type { Loaded } from '../project/loadFiles.ts';
import { nameFrom } from './paths.ts';

/** Says which files could not be read, and why. */
export function tellRefused({ refused }: Loaded, io: Io): void {
  const nameOf = nameFrom(io.cwd);
  for (const { uri, reason } of refused) tell(io, `${plainText(nameOf(uri))} cannot be read: ${reason}.`);
}
