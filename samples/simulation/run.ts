import type { Learner } from './learner.ts';
import type { Count } from './practice.ts';
import type { Random } from './random.ts';
import type { Route, Segment, Use } from './route.ts';

/** One run as it really went; times in seconds, to a tenth. */
export interface Run {
  /** Segments that were played to their end, in order. */
  readonly times: readonly (readonly [segment: string, seconds: number])[];
  readonly tried: Readonly<Record<string, Count>>;
  /** First tries only, of the uses that can be tried again. */
  readonly first: Readonly<Record<string, Count>>;
  readonly ended?: { readonly at: string; readonly why: 'death' | 'reset'; readonly by?: string };
  /** Seconds by the clock, whether finished or not. */
  readonly clock: number;
}

export interface RunConditions {
  readonly route: Route;
  readonly learner: Learner;
  readonly random: Random;
  readonly day: number;
  /** Whether the runner tries this use in runs at present. */
  readonly tries: (use: Use) => boolean;
  /** By how many seconds more than on a strict evening they may be behind their own pace and still go on. */
  readonly slack: number;
}

/** The share of the practice rate that is left with the clock running. */
const underPressure = 0.93;

/** Plays one run from the first segment to wherever it ends. */
export function playRun(conditions: RunConditions): Run {
  const times: [string, number][] = [];
  const tried: Record<string, Count> = {};
  const first: Record<string, Count> = {};
  let clock = 0;
  let behind = 0;
  for (const [index, segment] of conditions.route.segments.entries()) {
    // Dying comes at any point of the segment; only what lies before it was tried.
    const dies = conditions.random.happens(1 - segment.survive);
    const reached = dies ? conditions.random.between(0.15, 0.95) : 1;
    const played = playSegment(conditions, segment, reached);
    for (const [name, tape] of played.tapes) {
      tried[name] = [tape.filter((landed) => landed).length, tape.length];
      if (played.retried.has(name)) first[name] = [tape[0] === true ? 1 : 0, 1];
    }
    clock += tenths(played.time * reached);
    if (dies) return { times, tried, first, clock, ended: { at: segment.id, why: 'death' } };
    behind += played.time - pace(conditions, segment);
    if (behind > patienceAfter(index) + conditions.slack) {
      const by = played.missed === undefined ? {} : { by: played.missed };
      return { times, tried, first, clock, ended: { at: segment.id, why: 'reset', ...by } };
    }
    times.push([segment.id, tenths(played.time)]);
  }
  return { times, tried, first, clock };
}

/** After how many seconds behind their pace a runner gives up a run on a strict evening, by segment: few at first. */
function patienceAfter(index: number): number {
  return -2.2 + 0.45 * index;
}

/** The time that a runner expects of a segment: with average luck, and with most tries landing. */
function pace(conditions: RunConditions, segment: Segment): number {
  let expected = segment.time;
  for (const stroke of segment.luck) expected += stroke.chance * stroke.adds;
  for (const use of segment.uses) if (conditions.tries(use)) expected -= 0.75 * use.saves;
  return expected;
}

interface Played {
  readonly time: number;
  readonly tapes: ReadonlyMap<string, readonly boolean[]>;
  /** Uses that allow another try. */
  readonly retried: ReadonlySet<string>;
  /** The last technique that did not land at all. */
  readonly missed?: string;
}

function playSegment(conditions: RunConditions, segment: Segment, reached: number): Played {
  const { random, learner, day } = conditions;
  const tapes = new Map<string, boolean[]>();
  const retried = new Set<string>();
  let missed: string | undefined;
  // No segment is ever faster than three standard deviations below its usual time.
  let time = segment.time + Math.max(-3, random.skewed()) * segment.spread;
  for (const stroke of segment.luck) if (random.happens(stroke.chance)) time += stroke.adds;
  const uses = segment.uses.filter((use) => conditions.tries(use));
  for (const [index, use] of uses.entries()) {
    if ((index + 0.5) / uses.length > reached) break;
    const wet = use.name === use.technique ? 1 : 0.93;
    const chance = learner.rate(use.technique, day) * wet * underPressure;
    const tape: boolean[] = [];
    while (tape.length < use.maxTries && tape.at(-1) !== true) {
      tape.push(random.happens(chance));
      learner.attempt(use.technique);
    }
    const landed = tape.at(-1) === true;
    if (!landed) missed = use.technique;
    if (use.maxTries > 1) retried.add(use.name);
    time += use.retry * (tape.length - 1) + (landed ? -use.saves : use.loses);
    tapes.set(use.name, tape);
  }
  return { time, tapes, retried, ...(missed === undefined ? {} : { missed }) };
}

function tenths(seconds: number): number {
  return Math.round(seconds * 10) / 10;
}
