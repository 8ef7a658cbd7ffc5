import { leastRunners, mostRunners } from '../../model/pool/addUp.ts';
import { mostHoursLeft } from '../../model/week/hoursLeft.ts';
import { knownYears, parseMoment } from '../../text/calendar.ts';
import { formatNumber } from '../../text/format.ts';
import { parseTime } from '../../text/time.ts';

/** The day that `--as-of` asks for: a day number, or `last` for the day after the last log entry; undefined: today. */
export function asOfOption({ values }: WrittenValues): number | 'last' | undefined {
  const written = values.get('as-of');
  return written === 'last' || written === undefined ? written : parseMoment(written)?.date;
}

/** A sentence about a wrong value of `--as-of`, or undefined. */
export function asOfProblem(value: string): string | undefined {
  const moment = parseMoment(value);
  return value === 'last' || (moment && moment.minute === undefined)
    ? undefined
    : `--as-of needs a date such as 2026-10-05, or last, not ${value}.`;
}

/** The seconds in a value of `--target`, or a sentence about a wrong value. */
export function readTarget(value: string): number | string {
  return parseTime(value) ?? `--target needs a time such as 41:30 or 92.4, not ${value}.`;
}

/** The hours in a value of `--hours`, or a sentence about a wrong value. */
export function readHours(value: string): number | string {
  const hours = /^\d{1,5}(\.\d{1,3})?$/.test(value) ? Number(value) : NaN;
  return hours <= mostHoursLeft
    ? hours
    : `--hours needs a number from 0 to ${formatNumber(mostHoursLeft, 0)} such as 20, not ${value}.`;
}

/** More months than the years that a date may have. */
const mostMonths = 12 * (knownYears.last - knownYears.first + 1);

/** The months in a value of `--months`, or a sentence about a wrong value. */
export function readMonths(value: string): number | string {
  const months = /^\d{1,5}$/.test(value) ? Number(value) : NaN;
  return months >= 1 && months <= mostMonths
    ? months
    : `--months needs a whole number from 1 to ${mostMonths} such as 12, not ${value}.`;
}

/** Runners in the value of `--min-runners`, or a sentence about a wrong value. */
export function readMinRunners(value: string): number | string {
  return wholeNumber('min-runners', value, leastRunners, mostRunners);
}

/** Threads in the value of `--threads`, or a sentence about a wrong value. */
export function readThreads(value: string): number | string {
  return wholeNumber('threads', value, 1, 64);
}

function wholeNumber(option: string, value: string, least: number, most: number): number | string {
  const number = /^\d{1,5}$/.test(value) ? Number(value) : NaN;
  return number >= least && number <= most
    ? number
    : `--${option} needs a whole number from ${least} to ${formatNumber(most, 0)}, not ${value}.`;
}

/** The values of the options, as written. */
interface WrittenValues {
  readonly values: ReadonlyMap<string, string>;
}

/** The values of the options that may be repeated, as written. */
interface WrittenLists {
  readonly lists: ReadonlyMap<string, readonly string[]>;
}

/** A technique and the seconds of its cycle. */
interface WrittenCycle {
  readonly technique: string;
  readonly seconds: number;
}

/** The values of `--cycle`, with the techniques as written. */
export function cyclesOption({ lists }: WrittenLists): readonly WrittenCycle[] {
  return (lists.get('cycle') ?? []).flatMap((written) => parseCycle(written) ?? []);
}

/** A value of `--cycle`; undefined where the value has another form. */
function parseCycle(written: string): WrittenCycle | undefined {
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

/**
 * Heading → what its column holds, from the parts of `--columns`; a sentence where one has no meaning. A heading with a
 * comma in it stands in several parts.
 */
export function columnsOption({ lists }: WrittenLists): ReadonlyMap<string, string> | string {
  const names = new Map<string, string>();
  let heading = '';
  for (const part of lists.get('columns') ?? []) {
    const written = heading === '' ? part : `${heading}, ${part}`;
    const at = written.lastIndexOf('=');
    if (at > 0) names.set(written.slice(0, at).trim(), written.slice(at + 1).trim());
    heading = at > 0 ? '' : written;
  }
  if (heading === '') return names;
  return `--columns needs a heading and what its column holds, such as "Trick=technique", not ${heading}.`;
}
