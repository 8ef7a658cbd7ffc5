/**
 * Effective practice: how much of the past practice still has an effect.
 *
 * Doses add up, saturate within a day, gain a little overnight and fade while unused.
 */
import type { Constants } from '../core/constants.ts';
import { clamp } from '../core/numbers.ts';

/** The state of one technique at some moment of a day. */
export interface PracticeState {
  /** Effective attempts, nights so far included. */
  readonly effective: number;
  /** Today's doses, in attempts; the next night adds a share of them. */
  readonly pending: number;
  /** Minutes practised today. */
  readonly minutesToday: number;
  /** The day this state belongs to; null before the first entry. */
  readonly day: number | null;
}

/** Nothing practised yet. */
export const unpractised: PracticeState = { effective: 0, pending: 0, minutesToday: 0, day: null };

/**
 * Effective attempts that a block adds: `attempts` spread over `minutes`, after `before` minutes of the same
 * technique earlier that day. Each minute counts e^(-minutes so far / saturation). A block of no minutes counts as
 * a point in time, which is also how attempts in a run count.
 *
 * @example
 * dose(100, 25, 0, defaultConstants) // 94.20
 * dose(100, 25, 120, defaultConstants) // 52.76
 * dose(3, 0, 0, defaultConstants) // 3
 */
export function dose(attempts: number, minutes: number, before: number, constants: Constants): number {
  const tau = constants.daySaturation;
  const share = minutes / tau;
  const mean = share > 1e-12 ? -Math.expm1(-share) / share : 1;
  return attempts * mean * Math.exp(-before / tau);
}

/**
 * The part of `effective` attempts that remains after `days` without use: the log gain ln(1 + E/unit) halves every
 * `halfLife` days (Tatel & Ackerman).
 *
 * @example
 * forget(100, 195, defaultConstants) // 23.17
 */
export function forget(effective: number, days: number, constants: Constants): number {
  if (days <= 0) return effective;
  const unit = constants.unitPractice;
  return unit * Math.expm1(Math.log1p(effective / unit) * 2 ** (-days / constants.halfLife));
}

/**
 * The state on the morning of `day`: the night after the last practice has added its share, and the forgetting of
 * the idle days since then is subtracted. A state of that day or a later one is returned unchanged.
 */
export function stateOnMorning(state: PracticeState, day: number, constants: Constants): PracticeState {
  if (state.day === null || day <= state.day) return state;
  const rested = state.effective + constants.overnightGain * state.pending;
  // The new state belongs to the day before `day`, so that a second call does not count idle days twice.
  return {
    effective: forget(rested, day - state.day - 1, constants),
    pending: 0,
    minutesToday: 0,
    day: day - 1,
  };
}

/** The state after a block (or, with no minutes, after attempts in a run) on `day`, and the dose it added. */
export function applyPractice(
  state: PracticeState,
  day: number,
  attempts: number,
  minutes: number,
  constants: Constants,
): { readonly state: PracticeState; readonly added: number } {
  const now = stateOnMorning(state, day, constants);
  const added = dose(attempts, minutes, now.minutesToday, constants);
  return {
    added,
    state: {
      effective: now.effective + added,
      pending: now.pending + added,
      minutesToday: now.minutesToday + minutes,
      day: Math.max(day, now.day ?? day),
    },
  };
}

/**
 * Effective attempts as a level of practice, ln(1 + E/unit). The landing rate depends on this level.
 *
 * @example
 * practiceLevel(90, defaultConstants) // 2.3026
 */
export function practiceLevel(effective: number, constants: Constants): number {
  return Math.log1p(clamp(effective, 0, 1e12) / constants.unitPractice);
}

/** The level of practice, ln(1 + E/unit), on the morning of `day`. */
export function levelOnMorning(state: PracticeState, day: number, constants: Constants): number {
  return practiceLevel(stateOnMorning(state, day, constants).effective, constants);
}
