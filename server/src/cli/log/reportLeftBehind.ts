import { leftBehindNotices } from '../../logging/waitingEntries.ts';
import { printNotice, type Io } from '../terminal/io.ts';

/** Tells of attempts whose file was moved, renamed or removed, and how they come into the file it is now. */
export function reportLeftBehind(io: Io, state: string, now: number): void {
  for (const notice of leftBehindNotices(state, now)) printNotice(io, notice);
}
