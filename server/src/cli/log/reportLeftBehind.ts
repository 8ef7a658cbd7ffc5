import { leftBehindNotices } from '../../logging/waitingEntries.ts';
import { printNotice, type Io } from '../terminal/io.ts';

/** Reports attempts whose file was moved, renamed or removed, and how to get them into the file's new place. */
export function reportLeftBehind(io: Io, state: string, now: number): void {
  for (const notice of leftBehindNotices(state, now)) printNotice(io, notice);
}
