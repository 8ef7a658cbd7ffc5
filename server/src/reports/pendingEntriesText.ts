import { counted, listed } from '../text/format.ts';

/** `3 attempts and 1 run wait`: what a journal holds that its file does not. */
export function waitingWords({
  attempts,
  blocks,
  runs,
}: {
  readonly attempts: number;
  readonly blocks: number;
  readonly runs: number;
}): string {
  const parts = [
    ...(attempts > 0 ? [counted(attempts, 'attempt')] : []),
    ...(blocks > 0 ? [counted(blocks, 'block')] : []),
    ...(runs > 0 ? [counted(runs, 'run')] : []),
  ];
  return `${listed(parts)} ${attempts + blocks + runs === 1 ? 'waits' : 'wait'}`;
}
