import { type Moment, parseMoment } from '../text/calendar.ts';

/** The time, given from outside so that tests can set it. */
export interface Clock {
  /** Milliseconds since 1970. */
  now(): number;
  /** The runner's own clock at a time in ms since 1970: `2026-10-05T19:30`. */
  local(at: number): string;
  /** Resolves after so many milliseconds. */
  readonly pause: (milliseconds: number) => Promise<void>;
}

const two = (value: number) => String(value).padStart(2, '0');

/** The clock and time zone of this machine. */
export const systemClock: Clock = {
  now: () => Date.now(),
  local(at) {
    const date = new Date(at);
    const day = `${String(date.getFullYear()).padStart(4, '0')}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
    return `${day}T${two(date.getHours())}:${two(date.getMinutes())}`;
  },
  pause: (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds)),
};

/** The date and time of day by a clock now. */
export function momentNow(clock: Clock): Moment {
  return parseMoment(clock.local(clock.now()))!;
}
