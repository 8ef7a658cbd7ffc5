import type { BlockParams, TechniqueNotes } from '../../../server/src/protocol/messages/practiceBlock.ts';
import type { OfferedTechnique, PracticeOffer } from '../../../server/src/protocol/messages/practiceOffer.ts';
import { practiceVersion } from '../../../server/src/protocol/practice/bindings.ts';
import { canBeLonger, canBeShorter, phaseShape } from '../../../server/src/protocol/practice/phases.ts';
import {
  booleanShape,
  listOf,
  numberShape,
  textShape,
  oneOf,
  optional,
  orNull,
  record,
  type ShapeType,
} from '../../../server/src/protocol/shape.ts';

/**
 * The data of a block that are kept outside its view, so that a hidden or reloaded view continues. Times are ms since
 * 1970.
 */
export const runningBlockShape = record({
  version: oneOf(practiceVersion),
  phase: phaseShape,
  /** The practice file. */
  uri: textShape,
  route: textShape,
  technique: textShape,
  name: textShape,
  from: textShape,
  /** Seconds. */
  cycle: numberShape,
  block: textShape,
  began: numberShape,
  /** When the block's time is up; after the block has ended, when it ended. */
  ends: numberShape,
  restEnds: orNull(numberShape),
  /** Minutes practised today before this block. */
  before: numberShape,
  promise: textShape,
  caution: orNull(textShape),
  /** Whether the person was told that attempts come slowly: they are told once a block. */
  slowSaid: booleanShape,
  /** Whether the block ended because its time was up. */
  timeUp: booleanShape,
  usual: optional(textShape),
  /** Where the technique stood as the block began. */
  standing: optional(textShape),
  /** What the route says about the technique. */
  notes: optional(textShape),
  links: optional(listOf(textShape)),
  /** Where its end would be if no limit of a block had moved it: set once a limit did. */
  unlimitedEnds: optional(numberShape),
  /** When it was paused, where it is; and the milliseconds of earlier pauses. */
  pausedAt: optional(numberShape),
  pausedMs: optional(numberShape),
});
export type RunningBlock = ShapeType<typeof runningBlockShape>;

/** Milliseconds for which a block whose time is up waits for the result of the last attempt. */
export const graceMs = 120_000;

/** Longest block, in minutes: after an hour on one technique a rest is due. */
export const maxMinutes = 60;

/**
 * The block with its end moved by `minutes`, earlier where negative, but never before `now` and never so late that it is
 * longer than a block can be. What a limit takes off is remembered, so that the opposite step leads back exactly. A step
 * that would change nothing, or end in the past, leaves the block as it is.
 */
export function withMinutesAdded(running: RunningBlock, minutes: number, now: number): RunningBlock {
  const { phase, timeUp, began, pausedMs = 0, unlimitedEnds = running.ends } = running;
  if (minutes < 0 ? !canBeShorter(phase) : !canBeLonger(phase, timeUp)) return running;
  const latest = began + pausedMs + maxMinutes * 60_000;
  const wanted = unlimitedEnds + minutes * 60_000;
  const ends = Math.max(now, Math.min(latest, wanted));
  if (ends === running.ends || (minutes > 0 && ends <= now)) return running;
  return { ...running, phase: 'block', timeUp: false, ends, unlimitedEnds: wanted };
}

/** How a block begins. */
export interface BlockStart extends TechniqueNotes {
  /** Its id. */
  readonly block: string;
  /** Ms since 1970. */
  readonly began: number;
  /** Milliseconds to get ready, in which nothing counts. */
  readonly readyMs: number;
}

/** The block as it begins. */
export function newRunningBlock(
  { route, practice, promise, caution, minutesToday }: PracticeOffer,
  { technique, name, from, cycle, minutes, usual, standingText }: OfferedTechnique,
  { block, began, readyMs, notes, links }: BlockStart,
): RunningBlock {
  return {
    version: practiceVersion,
    phase: readyMs > 0 ? 'ready' : 'block',
    uri: practice.uri,
    route,
    technique,
    name,
    from,
    cycle,
    block,
    began: began + readyMs,
    ends: began + readyMs + minutes * 60_000,
    restEnds: null,
    before: minutesToday,
    promise,
    caution,
    slowSaid: false,
    timeUp: false,
    usual,
    standing: standingText,
    notes,
    links,
  };
}

/** Longest pause, in milliseconds: after it the block is over, as it was when the pause began. */
export const maxPauseMs = 25 * 60_000;

/** The block as it stands still. */
export function paused(running: RunningBlock, now: number): RunningBlock {
  return { ...running, phase: 'paused', pausedAt: now };
}

/** The block as it goes on after a pause: its end is later by the time of the pause. */
export function resumed(running: RunningBlock, now: number): RunningBlock {
  const { pausedAt = now, pausedMs = 0, unlimitedEnds, ...rest } = running;
  const length = Math.max(0, now - pausedAt);
  return {
    ...rest,
    phase: 'block',
    ends: running.ends + length,
    pausedMs: pausedMs + length,
    ...(unlimitedEnds !== undefined && { unlimitedEnds: unlimitedEnds + length }),
  };
}

export function blockParams({ uri, block, technique }: RunningBlock): BlockParams {
  return { uri, block, technique };
}

/**
 * The block after the changes of phase that time alone brings, and when the next one is due: ms since 1970, null for
 * never.
 */
export function advanceToTime(
  running: RunningBlock,
  tries: number,
  now: number,
): { readonly running: RunningBlock; readonly next: number | null } {
  const { phase, ends, restEnds, began, pausedAt } = running;
  if (phase === 'ready')
    return now < began ? { running, next: began } : advanceToTime({ ...running, phase: 'block' }, tries, now);
  if (phase === 'paused') return { running, next: (pausedAt ?? now) + maxPauseMs };
  if (phase === 'block') {
    if (now < ends) return { running, next: ends };
    // Where no attempt was counted by key, there is no attempt to wait for; the person is asked for the counts.
    return advanceToTime({ ...running, phase: tries > 0 ? 'up' : 'count', timeUp: true }, tries, now);
  }
  if (phase === 'up') return { running, next: Math.max(now, ends + graceMs) };
  if (phase === 'rest' && restEnds !== null) {
    return now < restEnds
      ? { running, next: restEnds }
      : { running: { ...running, phase: 'rested' }, next: null };
  }
  return { running, next: null };
}
