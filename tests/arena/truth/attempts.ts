/**
 * Learning by counted attempts, for the truths that are not the model's: tired attempts teach less, a night adds a
 * little, and what lies idle fades. Nothing here is taken from the model.
 */
import type { Chance } from '../random.ts';
import { fresh, progressFor } from './truth.ts';
import type { Learning, Progress, Truth } from './truth.ts';

/** One runner's ways, shared by all techniques. */
export interface Ways {
  /** Factor on the attempts that everything takes. */
  readonly slowness: number;
  /** Minutes after which an attempt of the same evening teaches half as much. */
  readonly tires: number;
  /** Share of a day's attempts that the night adds. */
  readonly night: number;
  /** Share of the progress lost on each idle day. */
  readonly fades: number;
  /** Log odds lost in runs, on average over techniques. */
  readonly nerves: number;
}

export function drawWays(random: Chance): Ways {
  return {
    slowness: Math.exp(0.6 * random.normal()),
    tires: random.between(90, 300),
    night: random.between(0, 0.3),
    fades: random.between(0.001, 0.008),
    nerves: random.between(-0.1, 1),
  };
}

/** A learning from the landing rate as a function of attempts that count. */
export function byAttempts(rateAt: (attempts: number) => number, ways: Ways, random: Chance): Learning {
  const top = rateAt(1e7);
  const wanted = random.between(0.6, 0.95) * top;
  return {
    practise: (at, attempts, minutes): Progress => {
      const counts = attempts / (1 + (at.minutes + minutes / 2) / ways.tires);
      return { gained: at.gained + counts, today: at.today + counts, minutes: at.minutes + minutes, idle: 0 };
    },
    night: (at) => ({
      gained: (at.gained + ways.night * at.today) * (at.idle === 0 ? 1 : 1 - ways.fades),
      today: 0,
      minutes: 0,
      idle: at.idle + 1,
    }),
    rate: (at) => rateAt(at.gained),
    loss: ways.nerves + random.between(-1, 1),
    known: { ...fresh, idle: 1, gained: progressFor(rateAt, wanted, 1e6) },
  };
}

/** Days that differ by a bell in log odds. */
export const unevenDays: Truth['dayShift'] = (_rate, day) => 0.35 * day.normal();
