/** How simulated runners really learn: what every kind of truth has in common. */
import type { Chance } from '../random.ts';
import type { Skill } from '../world.ts';

/** Where one technique stands. The meaning of `gained` is each truth's own. */
export interface Progress {
  readonly gained: number;
  /** Added today; the night adds a share of it. */
  readonly today: number;
  /** Minutes of practice today. */
  readonly minutes: number;
  /** Nights since it was last used. */
  readonly idle: number;
}

export const fresh: Progress = { gained: 0, today: 0, minutes: 0, idle: 0 };

/** How one technique is learned by one runner. Pure: every step returns a new state. */
export interface Learning {
  /** After `attempts` in `minutes` of practice (0 minutes: in a run). */
  readonly practise: (at: Progress, attempts: number, minutes: number) => Progress;
  /** After a night. */
  readonly night: (at: Progress) => Progress;
  /** True landing rate in practice, before the day's own noise. */
  readonly rate: (at: Progress) => number;
  /** Log odds lost in a run. */
  readonly loss: number;
  /** Where a technique learned long ago stands. */
  readonly known: Progress;
}

/** One runner's truth: a learning for each technique, and how days differ. */
export interface Truth {
  readonly learnings: readonly Learning[];
  /** Shift in log odds of a whole day of a technique whose rate is `rate`. */
  readonly dayShift: (rate: number, random: Chance) => number;
}

export type MakeTruth = (skills: readonly Skill[], random: Chance) => Truth;

export function logit(p: number): number {
  const safe = Math.min(1 - 1e-6, Math.max(1e-6, p));
  return Math.log(safe / (1 - safe));
}

export function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

/** Rate of a technique in a run. */
export function inRun(learning: Learning, at: Progress): number {
  return logistic(logit(learning.rate(at)) - learning.loss);
}

/** The least progress at which a rising rate reaches `wanted`, up to `most`. */
export function progressFor(rate: (gained: number) => number, wanted: number, most: number): number {
  let low = 0;
  let high = most;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (rate(middle) < wanted) low = middle;
    else high = middle;
  }
  return high;
}
