/** What a policy sees and decides. */
import type { Logs } from '../../../server/src/model/index.ts';
import type { Slip } from '../truth/slip.ts';
import type { Progress, Truth } from '../truth/truth.ts';
import type { World } from '../world.ts';

/** The runner's own counts of one technique. */
export interface Tally {
  /** Practice blocks in order. */
  readonly blocks: readonly { readonly landed: number; readonly tries: number }[];
  /** Evenings of runs in which it was tried, in order. */
  readonly runs: readonly { readonly landed: number; readonly tries: number }[];
  /** Whether it is tried in runs at present. */
  readonly inRun: boolean;
  /** Day of the last practice, counted from 0; -1 before the first. */
  readonly lastDay: number;
}

/** What stands before a session: everything a runner could know, and nothing more. */
export interface View {
  /** Counted from 0. */
  readonly day: number;
  /** Blocks that fit today. */
  readonly blocks: number;
  readonly logs: Logs;
  readonly tallies: readonly Tally[];
}

/** One policy following one runner. */
export interface Policy {
  /** Numbers of the techniques of today's blocks, in order; at most `view.blocks`. */
  readonly choose: (view: View) => readonly number[];
  /**
   * Whether the policy itself calls a technique learned, on a morning on which it has chosen. Not given by plans made from the
   * truth: they judge by it (a true rate in runs at break-even or above).
   */
  readonly learned?: (skill: number, view: View) => boolean;
}

/** What only the clairvoyant is told. */
export interface Secret {
  readonly truth: Truth;
  readonly start: readonly Progress[];
  readonly slip: Slip | null;
}

export type MakePolicy = (world: World, seed: number, secret: Secret) => Policy;

/** Most blocks of one technique in a day: an hour. */
export function mostADay(world: World): number {
  return Math.max(1, Math.floor(60 / world.blockMinutes));
}

/** Landed share of the last practice tries, at least `least` of them where there are as many; null without any. */
export function recentRate(tally: Pick<Tally, 'blocks'>, least = 60): number | null {
  let landed = 0;
  let tries = 0;
  for (let i = tally.blocks.length - 1; i >= 0 && tries < least; i--) {
    landed += tally.blocks[i]!.landed;
    tries += tally.blocks[i]!.tries;
  }
  return tries > 0 ? landed / tries : null;
}

/** Whether a need can carry what stands on it, by the runner's own counts: half of the tries land, or it is in the run. */
export function readyByCounts(tally: Tally): boolean {
  return tally.inRun || (recentRate(tally) ?? 0) >= 0.5;
}

/** Fills today's blocks from a list, best first, going round again while a technique has had less than an hour. */
export function fill(world: World, chosen: readonly number[], blocks: number): number[] {
  const most = mostADay(world);
  const today: number[] = [];
  for (let round = 0; round < most && today.length < blocks; round++) {
    for (const skill of chosen) if (today.length < blocks) today.push(skill);
  }
  return today;
}

/** Puts those first that have waited longest for practice; others keep their order. */
export function longestWaitingFirst(chosen: readonly number[], tallies: readonly Tally[]): number[] {
  return [...chosen].sort((a, b) => tallies[a]!.lastDay - tallies[b]!.lastDay);
}
