import { formatCount, formatList } from '../text/format.ts';

/** `3 attempts and 1 run wait`: what a journal holds that its file does not. */
export function pendingEntriesText({
  attempts,
  blocks,
  runs,
}: {
  readonly attempts: number;
  readonly blocks: number;
  readonly runs: number;
}): string {
  const parts = [
    ...(attempts > 0 ? [formatCount(attempts, 'attempt')] : []),
    ...(blocks > 0 ? [formatCount(blocks, 'block')] : []),
    ...(runs > 0 ? [formatCount(runs, 'run')] : []),
  ];
  return `${formatList(parts)} ${attempts + blocks + runs === 1 ? 'waits' : 'wait'}`;
}
