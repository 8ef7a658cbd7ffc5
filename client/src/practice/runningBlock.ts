import {
  practiceVersion,
  type BlockParams,
  type OfferedTechnique,
  type PracticeOffer,
  type PracticePhase,
} from '../../../server/src/protocol/practice.ts';
import {
  aFlag,
  aNumber,
  aText,
  oneOf,
  orNull,
  record,
  type Shaped,
} from '../../../server/src/protocol/shape.ts';

/** What is kept of a block outside its view, so that a hidden or reloaded view goes on. Times are ms since 1970. */
export const runningShape = record({
  version: oneOf(practiceVersion),
  phase: oneOf('block', 'up', 'count', 'rest', 'rested'),
  /** The practice file. */
  uri: aText,
  route: aText,
  technique: aText,
  name: aText,
  from: aText,
  /** Seconds. */
  cycle: aNumber,
  block: aText,
  began: aNumber,
  /** When its time is up; once it is over, when it was over. */
  ends: aNumber,
  restEnds: orNull(aNumber),
  /** Minutes practised today before it. */
  before: aNumber,
  promise: aText,
  caution: orNull(aText),
  /** Whether it was said that attempts come slowly: once is enough. */
  slowSaid: aFlag,
  /** Whether it was the clock that ended it. */
  timeUp: aFlag,
});
export type Running = Shaped<typeof runningShape>;

/** Milliseconds for which a block whose time is up waits for the attempt under way, and for somebody to say. */
export const graceAfter = 120_000;

/** Minutes that no block is made longer than: after an hour on one technique a rest is due. */
const longest = 60;

/** The block with its end so many minutes later, or sooner where negative: never before now. */
export function lengthened(running: Running, minutes: number, now: number): Running {
  const ends = Math.min(running.began + longest * 60_000, running.ends + minutes * 60_000);
  return { ...running, ends: Math.max(now, ends) };
}

/** The block as it begins. */
export function beginning(
  { route, practice, promise, caution, minutesToday }: PracticeOffer,
  { technique, name, from, cycle, minutes }: OfferedTechnique,
  block: string,
  began: number,
): Running {
  return {
    version: practiceVersion,
    phase: 'block',
    uri: practice.uri,
    route,
    technique,
    name,
    from,
    cycle,
    block,
    began,
    ends: began + minutes * 60_000,
    restEnds: null,
    before: minutesToday,
    promise,
    caution,
    slowSaid: false,
    timeUp: false,
  };
}

/** Whether attempts count now. */
export function isCounting(phase: PracticePhase): boolean {
  return phase === 'block' || phase === 'up';
}

/** Whether the block is not in the log yet. */
export function isOpen(phase: PracticePhase): boolean {
  return isCounting(phase) || phase === 'count';
}

export function blockOf({ uri, block, technique }: Running): BlockParams {
  return { uri, block, technique };
}

/** What the clock alone makes of a block, and when the clock has the next say: ms since 1970, null for never. */
export function byClock(
  running: Running,
  tries: number,
  now: number,
): { readonly running: Running; readonly next: number | null } {
  const { phase, ends, restEnds } = running;
  if (phase === 'block') {
    if (now < ends) return { running, next: ends };
    // Where nothing was counted by key, there is no attempt to wait for, only numbers to ask.
    return byClock({ ...running, phase: tries > 0 ? 'up' : 'count', timeUp: true }, tries, now);
  }
  if (phase === 'up') return { running, next: Math.max(now, ends + graceAfter) };
  if (phase === 'rest' && restEnds !== null) {
    return now < restEnds
      ? { running, next: restEnds }
      : { running: { ...running, phase: 'rested' }, next: null };
  }
  return { running, next: null };
}
