import type { LogEntry } from '../journal/journalLines.ts';
import { minutesPerDay } from '../text/calendar.ts';
import { parseTime } from '../text/time.ts';
import type { WritingProblem } from './logVocabulary.ts';

/** What a person wrote about a block. Keys that are left out were not filled in. */
export interface WrittenBlock {
  /** A number such as `25`, or a time such as `12:30`. */
  readonly minutes?: string | undefined;
  readonly landed?: string | undefined;
  readonly tries?: string | undefined;
  /** One letter an attempt, `l` landed and `m` missed, in capitals or not. */
  readonly tape?: string | undefined;
  /** Attempts of which nobody counted how many landed. */
  readonly attempts?: string | undefined;
}

/** The same as numbers. */
export interface BlockNumbers {
  /** Undefined where nobody timed the block. */
  readonly minutes: number | undefined;
  readonly counts: readonly [landed: number, tries: number] | undefined;
  readonly tape: string | undefined;
  readonly attempts: number | undefined;
}

export interface ReadingOptions {
  /**
   * True for rows of a table. It may hold zeros, and keeps its minutes to the last digit: the id of a row is made from
   * them, and a row that is read again must get the same one.
   */
  readonly table?: boolean;
}

/** Reads what was written about a block. Never throws. */
export function readBlock(
  written: WrittenBlock,
  options: ReadingOptions = {},
): BlockNumbers | WritingProblem {
  const counts: (number | undefined)[] = [];
  for (const part of ['landed', 'tries', 'attempts'] as const) {
    const word = written[part];
    if (word !== undefined && !/^\d{1,9}$/.test(word.trim()))
      return { problem: `Landed, tries and attempts are whole numbers such as 12, not ${word}.`, part };
    counts.push(word === undefined ? undefined : Number(word));
  }
  const [landed, tries, attempts] = counts;
  if ((landed === undefined) !== (tries === undefined))
    return { problem: 'A counted block needs both numbers: how many landed and how many tries.' };
  if (landed !== undefined && landed > tries!)
    return { problem: `Of ${tries!} tries no more than ${tries!} can land.` };
  const tape = written.tape?.trim().toLowerCase();
  if (tape !== undefined && !/^[lm]+$/.test(tape))
    return {
      problem: `A tape has one letter an attempt, l landed and m missed, not ${written.tape!}.`,
      part: 'tape',
    };
  const minutes = written.minutes === undefined ? undefined : readMinutes(written.minutes, options);
  if (typeof minutes === 'object') return minutes;
  return { minutes, counts: landed === undefined ? undefined : [landed, tries!], tape, attempts };
}

/** Reads the one field of a form that holds counts or a tape: `12/20`, `12 of 20`, `lmmlll`; empty for neither. */
export function splitResult(result: string): WrittenBlock | WritingProblem {
  const text = result.trim();
  if (text === '') return {};
  if (/^[lm]+$/i.test(text)) return { tape: text };
  const [, landed, tries] = /^(\d+)\s*(?:\/|of|\s)\s*(\d+)$/i.exec(text) ?? [];
  return landed === undefined || tries === undefined
    ? { problem: 'Landed and tries such as 12/20, or one letter an attempt such as lmmlll.' }
    : { landed, tries };
}

/**
 * A block as it is written into a log.
 *
 * @param technique its id
 * @param cycle seconds from one attempt of it to the next: where nobody timed the block, it lasted its attempts times
 * the cycle, 0.1 minutes at least
 * @param on what it was done on, such as `emulator`
 */
export function blockEntry(
  technique: string,
  { minutes, counts, tape, attempts }: BlockNumbers,
  cycle: number,
  on?: string,
): LogEntry & { readonly minutes: number } {
  const attemptCount = tape?.length ?? counts?.[1] ?? attempts ?? 0;
  return {
    technique,
    minutes: minutes ?? Math.max(0.1, Math.round((attemptCount * cycle) / 6) / 10),
    ...(counts && { landed: [...counts] }),
    ...(tape !== undefined && { tape }),
    ...(attempts !== undefined && { attempts }),
    ...(on !== undefined && { on }),
  };
}

function readMinutes(written: string, { table = false }: ReadingOptions): number | WritingProblem {
  const time = parseTime(written);
  const minutes = time === undefined ? NaN : written.includes(':') ? time / 60 : time;
  if (minutes <= minutesPerDay && (minutes > 0 || (table && minutes === 0)))
    return table ? minutes : Math.round(minutes * 10) / 10;
  return {
    problem: `Minutes are a number such as 25, or a time such as 12:30, not ${written}.`,
    part: 'minutes',
  };
}
