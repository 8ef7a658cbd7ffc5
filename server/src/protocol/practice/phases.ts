/** The phases of a practice block, and what a person can do in each: read in one way by the editor and by the view. */
import { oneOf, type ShapeType } from '../shape.ts';
import type { PracticeAction } from './bindings.ts';

/**
 * `ready`: it begins in a moment. `paused`: nothing counts, and its time stands still. `block`: the block runs. `up`: its
 * time is up, the attempt under way still counts. `count`: it has ended and no attempt was counted by key. `rest`: it is
 * logged, and the rest runs. `rested`: the rest has ended too.
 */
export const phaseShape = oneOf('ready', 'block', 'paused', 'up', 'count', 'rest', 'rested');
export type PracticePhase = ShapeType<typeof phaseShape>;

/** Whether attempts count now. */
export function isCounting(phase: PracticePhase): boolean {
  return phase === 'block' || phase === 'up';
}

/** Whether an action does something now: in a pause a block can be ended, and nothing counts. */
export function isPossible(action: PracticeAction, phase: PracticePhase): boolean {
  return isCounting(phase) || (action === 'end' && phase === 'paused');
}

/** Whether a block can be made shorter: while its time runs. */
export function canBeShorter(phase: PracticePhase): boolean {
  return phase === 'block';
}

/**
 * Whether a block can be made longer: while its time runs, and once that is up, so that minutes taken away too quickly
 * can be given back.
 */
export function canBeLonger(phase: PracticePhase, timeUp: boolean): boolean {
  return isCounting(phase) || (phase === 'count' && timeUp);
}

/** Whether the block has begun or is about to, and its time is not over for good. */
export function isUnderWay(phase: PracticePhase): boolean {
  return isCounting(phase) || phase === 'ready' || phase === 'paused';
}

/** Whether the block has not been written to the log yet. */
export function isOpen(phase: PracticePhase): boolean {
  return isUnderWay(phase) || phase === 'count';
}
