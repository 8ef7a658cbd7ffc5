import { parseMoment } from '../../text/calendar.ts';
import { parseTime } from '../../text/time.ts';

/** The values of the options in a request, as written. */
interface WrittenValues {
  readonly values: ReadonlyMap<string, string>;
}

/** Day number of `--as-of`; undefined where it is not given. */
export function asOfDay({ values }: WrittenValues): number | undefined {
  const written = values.get('as-of');
  return written === undefined ? undefined : parseMoment(written)?.date;
}

/** A sentence about a wrong value of `--as-of`, or undefined. */
export function asOfProblem(value: string): string | undefined {
  const moment = parseMoment(value);
  return moment && moment.minute === undefined
    ? undefined
    : `--as-of needs a date such as 2026-10-05, not ${value}.`;
}

/** Seconds of `--target`; undefined where it is not given. */
export function targetOption({ values }: WrittenValues): number | undefined {
  const written = values.get('target');
  return written === undefined ? undefined : parseTime(written);
}

/** A sentence about a wrong value of `--target`, or undefined. */
export function targetProblem(value: string): string | undefined {
  return parseTime(value) === undefined
    ? `--target needs a time such as 41:30 or 92.4, not ${value}.`
    : undefined;
}

/** A technique and the seconds of its cycle, from a value of `--cycle`; undefined where the value has another form. */
export function parseCycle(written: string): { technique: string; seconds: number } | undefined {
  const match = /^([^=]+)=(.+)$/.exec(written);
  const seconds = match && parseTime(match[2]!);
  return match && seconds ? { technique: match[1]!.trim(), seconds } : undefined;
}

/** A sentence about a wrong value of `--cycle`, or undefined. The value may hold several with commas between them. */
export function cycleProblem(value: string): string | undefined {
  const unreadable = splitAtCommas(value).find((part) => parseCycle(part) === undefined);
  return unreadable === undefined
    ? undefined
    : `--cycle needs a technique and its seconds, such as tide-skip=6, not ${unreadable}.`;
}

/** The parts of a value that are separated by commas, without the spaces around them. */
export function splitAtCommas(value: string): string[] {
  return value
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
}
