import { momentOf } from './calendar.ts';
import type { Learner } from './learner.ts';
import type { Random } from './random.ts';
import type { Route } from './route.ts';
import type { SampleRunner, WeekPlan } from './sampleRunner.ts';

export type Count = readonly [landed: number, tries: number];

/** One block as it stands in the log. */
export interface Block {
  readonly technique?: string;
  readonly segment?: string;
  readonly minutes: number;
  readonly landed?: Count;
  readonly seen?: Count;
  readonly attempts?: number;
  readonly tape?: string;
  readonly tried?: Readonly<Record<string, Count>>;
  readonly on?: string;
}

export interface Session {
  readonly start: string;
  readonly blocks: readonly Block[];
}

/** What every evening of practice shares. */
export interface PracticeConditions {
  readonly runner: Pick<SampleRunner, 'minutesFree' | 'begins'>;
  readonly route: Route;
  readonly learner: Learner;
  readonly random: Random;
}

/**
 * One evening's session, and where the rotation stands after it. The set is rotated over the evenings, so that
 * each technique comes up on as many nights as there is time for; a block is 20 to 30 minutes.
 */
export function practiseEvening(
  conditions: PracticeConditions,
  plan: WeekPlan,
  day: number,
  nextInSet: number,
): { session: Session; nextInSet: number } {
  const { random, runner } = conditions;
  const evening = day % 7;
  const start = momentOf(day, runner.begins + 5 * random.whole(0, 9));
  const blocks: Block[] = [];
  let left = runner.minutesFree[evening] ?? 0;
  let next = nextInSet;
  // Good evenings and tired ones; later blocks of an evening suffer a little.
  const form = random.between(0.92, 1.05);
  const whole = plan.segment?.evening === evening ? plan.segment.id : undefined;
  if (whole !== undefined) left -= 25;
  while (left >= 20) {
    const technique = plan.set[next % plan.set.length] ?? '';
    next += 1;
    const minutes = Math.min(left, technique === 'oil-pickup' ? 20 : random.pick([20, 25, 25, 25, 30]));
    left -= minutes;
    blocks.push(practiseTechnique(conditions, technique, minutes, day, form * (1 - 0.015 * blocks.length)));
  }
  if (whole !== undefined) blocks.push(practiseSegment(conditions, whole, 25, day, form));
  return { session: { start, blocks }, nextInSet: next };
}

/** One block: every attempt is made in turn, and what is written down depends on the runner's mood. */
function practiseTechnique(
  conditions: PracticeConditions,
  technique: string,
  minutes: number,
  day: number,
  form: number,
): Block {
  const { random, learner, route } = conditions;
  const cycle = route.cycles.get(technique) ?? 8;
  // Nobody repeats without a pause: the rest is drinking, talking and looking at the ceiling.
  const tries = Math.floor(((minutes * 60) / cycle) * random.between(0.7, 0.93));
  const tape: boolean[] = [];
  for (let i = 0; i < tries; i += 1) {
    const warm = i < 8 ? 0.8 : 1;
    tape.push(random.happens(Math.min(0.99, learner.rate(technique, day) * form * warm)));
    learner.attempt(technique);
  }
  const block = { technique, minutes };
  const mood = random.next();
  if (mood < 0.1) {
    // A sample of twenty somewhere past the middle, and the number of attempts from the game's own counter.
    const sample = tape.slice(Math.floor(tries / 2), Math.floor(tries / 2) + 20);
    return { ...block, attempts: tries, seen: count(sample) };
  }
  if (mood < 0.16) return block;
  const on = technique === 'tide-skip' ? { on: 'emulator' } : {};
  if (tries <= 100 && mood < 0.5) {
    return { ...block, tape: tape.map((landed) => (landed ? 'l' : 'm')).join(''), ...on };
  }
  return { ...block, landed: count(tape), ...on };
}

/** A segment played whole, over and over; each pass tries its practised techniques once. */
function practiseSegment(
  conditions: PracticeConditions,
  id: string,
  minutes: number,
  day: number,
  form: number,
): Block {
  const { random, learner, route } = conditions;
  const segment = route.segments.find((candidate) => candidate.id === id);
  const passes = segment === undefined ? 0 : Math.floor((minutes * 60) / (segment.time + 8));
  const tried: Record<string, Count> = {};
  for (const use of segment?.uses ?? []) {
    const tape: boolean[] = [];
    for (let i = 0; i < passes; i += 1) {
      tape.push(random.happens(learner.rate(use.technique, day) * form * 0.95));
      learner.attempt(use.technique);
    }
    tried[use.name] = count(tape);
  }
  return { segment: id, minutes, tried };
}

function count(tape: readonly boolean[]): Count {
  return [tape.filter((landed) => landed).length, tape.length];
}
