import type { LogEntry } from '../journal/journalLines.ts';
import { parseTime } from '../text/time.ts';
import { knownSegment, type LogVocabulary, type WritingProblem } from './logVocabulary.ts';
import { endings, readAllTried } from './readRun.ts';

/** What a person wrote about an evening of runs in short. Keys that are left out were not filled in. */
export interface WrittenEvening {
  /** A date without a time of day. */
  readonly date: string;
  readonly runs: string;
  readonly finished?: string | undefined;
  readonly minutes?: string | undefined;
  /** `crate-vault=20/31`, or `crate-vault@second=20/31` for one of several uses. */
  readonly tried: readonly string[];
  /** The same, first tries only. */
  readonly first: readonly string[];
  /** `harbor:reset=20 harbor:death=5`. */
  readonly ended?: string | undefined;
  readonly on?: string | undefined;
}

/** Reads an evening as it is written into a log. Never throws. */
export function readEvening(
  { date, runs, finished, minutes, tried, first, ended, on }: WrittenEvening,
  words: LogVocabulary,
): { readonly entry: LogEntry } | WritingProblem {
  if (date.includes('T')) return { problem: `An evening of several runs has a date alone, not ${date}.` };
  const odd = [runs, finished].find((count) => count !== undefined && !/^\d{1,7}$/.test(count));
  if (odd !== undefined) return { problem: `Runs and finished are whole numbers such as 12, not ${odd}.` };
  if (finished !== undefined && Number(finished) > Number(runs))
    return { problem: `Of ${runs} runs no more than ${runs} can be finished.` };
  const time = minutes === undefined ? undefined : parseTime(minutes);
  const length = time === undefined || !minutes?.includes(':') ? time : time / 60;
  if (minutes !== undefined && !(length !== undefined && length <= 1440))
    return { problem: `Minutes are a number such as 120, not ${minutes}.` };
  const [all, firsts] = [readAllTried(tried, words), readAllTried(first, words)];
  if ('problem' in all) return all;
  if ('problem' in firsts) return firsts;
  const ends = ended === undefined ? undefined : readEndings(ended, words);
  if (ends && 'problem' in ends) return ends;
  return {
    entry: {
      date,
      ...(length !== undefined && { minutes: length }),
      runs: Number(runs),
      ...(finished !== undefined && { finished: Number(finished) }),
      ...(ends && { ended: ends.counts }),
      ...(tried.length > 0 && { tried: all.counts }),
      ...(first.length > 0 && { first: firsts.counts }),
      ...(on !== undefined && { on }),
    },
  };
}

function readEndings(
  written: string,
  words: LogVocabulary,
): { readonly counts: Readonly<Record<string, Readonly<Record<string, number>>>> } | WritingProblem {
  const counts: Record<string, Record<string, number>> = {};
  for (const part of written.split(/[\s;,]/).filter((one) => one !== '')) {
    const [, at = '', why = '', number] = /^([^:=]{1,200}):([a-z]{1,10})=(\d{1,7})$/.exec(part) ?? [];
    if (!endings.includes(why))
      return { problem: `The ends of an evening are such as harbor:reset=20 harbor:death=5, not ${part}.` };
    const segment = knownSegment(at, words);
    if (typeof segment !== 'string') return segment;
    counts[segment] = { ...counts[segment], [why]: Number(number) };
  }
  return { counts };
}
