/** How a pool notices that a runner is counted twice, without telling who is in it. */
import { sha256 } from '@noble/hashes/sha2';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils';
import type { PracticeEntry } from '../model/core/types.ts';

/** A runner with fewer entries of practice is not counted: so few could be guessed from their digest. */
export const leastEntries = 5;

/** Digits of a digest, 4 bits each. */
const digits = 12;

/**
 * A digest of when and how a runner first practised, the same whatever they log later and however techniques are renamed.
 *
 * @param route name of the route: the salt, so that the same runner has another digest in the pool of another route
 * @param practice in the order of time
 * @returns undefined where there are too few entries
 */
export function runnerDigest(route: string, practice: readonly PracticeEntry[]): string | undefined {
  if (practice.length < leastEntries) return undefined;
  const first = practice
    .slice(0, leastEntries)
    .map(({ order, minutes, attempts, counted }) => [
      order,
      minutes,
      attempts,
      counted?.landed,
      counted?.tries,
    ]);
  return bytesToHex(sha256(utf8ToBytes(JSON.stringify(['routewright pool', route, first])))).slice(0, digits);
}
