import type { LogEntry } from '../journal/journalLines.ts';
import type { RunEnding } from '../protocol/runLog/writtenRun.ts';
import { readRunTime, segmentTimeProblem, totalProblem } from '../protocol/runLog/writtenTimes.ts';
import { formatTime, parseTime } from '../text/time.ts';
import {
  knownSegment,
  knownTechnique,
  knownUse,
  type LogVocabulary,
  type WritingProblem,
} from './logVocabulary.ts';
import type { ReadingOptions } from './readBlock.ts';

/** What a person wrote about a run. Keys that are left out were not filled in. */
export interface WrittenRun {
  /** `41:30.2`, or seconds. */
  readonly total?: string | undefined;
  /** By segment, as {@link splitTime} gives them. */
  readonly times?: readonly WrittenTime[];
  /** `crate-vault=1/2`, or `crate-vault@second=1/2` for one of several uses. */
  readonly tried?: readonly string[];
  /** The same, first tries only. */
  readonly first?: readonly string[];
  /** `harbor:reset`, or `harbor:miss:crate-vault`. */
  readonly ended?: string | undefined;
  /** What it was done on, such as `emulator`. */
  readonly on?: string | undefined;
}

export interface WrittenTime {
  readonly segment: string;
  readonly time: string;
}

/** A run as it is written into a log, but for its start. */
export interface ReadRun {
  readonly entry: LogEntry;
  /** How long it took: its total, else the sum of its times. */
  readonly seconds: number;
}

/** Reads what was written about a run. Never throws. */
export function readRun(
  { total, times = [], tried = [], first = [], ended, on }: WrittenRun,
  words: LogVocabulary,
  options: ReadingOptions = {},
): ReadRun | WritingProblem {
  const seconds = total === undefined ? undefined : readTime(total, options);
  if (total !== undefined && seconds === undefined) return { problem: totalProblem(total), part: 'total' };
  const bySegment: Record<string, string> = {};
  let sum = 0;
  for (const [index, { segment, time }] of times.entries()) {
    const id = knownSegment(segment, words);
    if (typeof id !== 'string') return id;
    if (Object.hasOwn(bySegment, id)) return { problem: `A run has one time of ${id}, and two are given.` };
    const length = readTime(time, options);
    if (length === undefined) return { problem: segmentTimeProblem(id, time), part: 'times', index };
    bySegment[id] = spelledTime(time, length);
    sum += length;
  }
  const all = readAllTried(tried, words);
  if ('problem' in all) return { ...all, part: 'tried' };
  const firsts = readAllTried(first, words);
  if ('problem' in firsts) return { ...firsts, part: 'first' };
  const end = ended === undefined ? undefined : readEnd(ended, words);
  if (end && 'problem' in end) return { ...end, part: 'ended' };
  const says = options.table === true && tried.length + first.length > 0;
  if (total === undefined && times.length === 0 && !end && !says)
    return { problem: 'A run needs its total, the time of a segment or where it ended.' };
  const entry = {
    ...(total !== undefined && { total: spelledTime(total, seconds!) }),
    ...(times.length > 0 && { times: bySegment }),
    ...(tried.length > 0 && { tried: all.counts }),
    ...(first.length > 0 && { first: firsts.counts }),
    ...(end && { ended: end }),
    ...(on !== undefined && { on }),
  };
  return { entry, seconds: seconds ?? sum };
}

/** `harbor=1:31.8` */
export function splitTime(part: string): WrittenTime | WritingProblem {
  const [segment = '', time, ...more] = part.split('=');
  return time === undefined || more.length > 0
    ? { problem: `Times need a segment and its time, such as harbor=1:31.8, not ${part}.` }
    : { segment, time };
}

/**
 * What was tried, by technique or `technique@use`, from parts such as `crate-vault=1/2`. The counts of parts about the
 * same one are added up.
 */
export function readAllTried(
  parts: readonly string[],
  words: LogVocabulary,
): { readonly counts: Readonly<Record<string, readonly [number, number]>> } | WritingProblem {
  const counts = new Map<string, readonly [number, number]>();
  for (const [index, part] of parts.entries()) {
    const read = readTried(part, words);
    if ('problem' in read) return { ...read, index };
    const [landed, tries] = counts.get(read.name) ?? [0, 0];
    counts.set(read.name, [landed + read.counts[0], tries + read.counts[1]]);
  }
  return { counts: Object.fromEntries(counts) };
}

function readTried(
  part: string,
  words: LogVocabulary,
): { readonly name: string; readonly counts: readonly [number, number] } | WritingProblem {
  const written = splitTried(part);
  if ('problem' in written) return written;
  const name = knownUse(written.use, words);
  return typeof name === 'string' ? { name, counts: [Number(written.landed), Number(written.tries)] } : name;
}

/** `crate-vault=1/2` */
export function splitTried(
  part: string,
): { readonly use: string; readonly landed: string; readonly tries: string } | WritingProblem {
  const [, use = '', landed = '', tries = ''] = /^([^=]+)=(\d{1,9})\/(\d{1,9})$/.exec(part) ?? [];
  return use === '' || Number(landed) > Number(tries)
    ? {
        problem: `What was tried needs a technique, landed and tries, such as crate-vault=1/2, not ${part}.`,
      }
    : { use, landed, tries };
}

/** Why a run may end before its end. */
export const endings: readonly RunEnding[] = ['miss', 'death', 'reset'];

interface RunEnd {
  readonly at: string;
  readonly why: string;
  readonly by?: string;
}

function readEnd(written: string, words: LogVocabulary): RunEnd | WritingProblem {
  const [at = '', why = '', by, ...more] = written.split(':');
  if (!endings.some((one) => one === why) || more.length > 0)
    return {
      problem: `The end needs a segment and why, such as harbor:reset or harbor:miss:crate-vault, not ${written}.`,
    };
  const segment = knownSegment(at, words);
  if (typeof segment !== 'string') return segment;
  if (by === undefined) return { at: segment, why };
  const technique = knownTechnique(by, words);
  return typeof technique === 'string' ? { at: segment, why, by: technique } : technique;
}

function readTime(written: string, { table = false }: ReadingOptions): number | undefined {
  return table ? parseTime(written) : readRunTime(written);
}

/** A time as a text in the log: as it was written, but a minute or more in bare seconds as `m:ss.s`. */
function spelledTime(written: string, seconds: number): string {
  return written.includes(':') || seconds < 60 ? written : formatTime(seconds);
}
