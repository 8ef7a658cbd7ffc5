import { readGuardedBytesSync } from '../../disk/guardedRead.ts';
import { isUnread, unreadReason } from '../../files/reading/unread.ts';

/** The bytes of a file that the person named, or why it was not read. */
export function readNamedBytes(path: string): Uint8Array | { readonly reason: string } {
  const found = readGuardedBytesSync(path);
  if (found === undefined) return { reason: 'it does not exist' };
  return isUnread(found) ? { reason: unreadReason(found) } : found;
}
