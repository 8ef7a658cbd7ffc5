import type { LogEntry } from '../journal/journalLines.ts';
import type { WrittenEveningForm } from '../protocol/runLog/writtenRun.ts';
import { minutesPerDay, parseMoment } from '../text/calendar.ts';
import type { ReadingOptions } from './readBlock.ts';
import { knownSegment, knownUse, type LogVocabulary, type WritingProblem } from './logVocabulary.ts';

/** An evening as it is written into a log. */
export interface ReadEvening {
  readonly entry: LogEntry;
  /** Its date, such as `2026-10-03`. */
  readonly date: string;
}

/** An evening as its fields hold it. */
export interface WrittenEvening extends WrittenEveningForm {
  /** Like `tried`, first tries only. */
  readonly first?: WrittenEveningForm['tried'];
}

/** Reads what was written about an evening of runs in short. Never throws. */
export function readEvening(
  written: WrittenEvening,
  words: LogVocabulary,
  { table = false }: ReadingOptions = {},
): ReadEvening | WritingProblem {
  const date = written.date.trim();
  if (date.length !== 10 || parseMoment(date) === undefined)
    return {
      problem: `The runs need a date such as 2026-10-03, not ${date || 'nothing'}.`,
      part: 'start',
    };
  const runs = readCount(written.runs);
  if (runs === undefined)
    return {
      problem: `Runs started: a whole number such as 38, not ${written.runs || 'nothing'}.`,
      part: 'runs',
    };
  const finished = optionalCount(written.finished);
  if (finished === null)
    return {
      problem: `Runs finished: a whole number such as 2, not ${written.finished}.`,
      part: 'finished',
    };
  const minutes = optionalMinutes(written.minutes);
  if (minutes === null)
    return {
      problem: `Minutes played: a number such as 120, at most ${minutesPerDay}, not ${written.minutes}.`,
      part: 'minutes',
    };
  const ended = readEndings(written.ended, words);
  if ('problem' in ended) return { ...ended, part: 'ended' };
  const tried = readTried(written.tried, words);
  if ('problem' in tried) return { ...tried, part: 'tried' };
  const first = readTried(written.first ?? [], words);
  if ('problem' in first) return { ...first, part: 'first' };
  // A log may say more ends than runs, and what was exported from it is read again as it is.
  const early = table ? 0 : ended.runs;
  const over = (finished ?? 0) + early;
  if (over > runs)
    return {
      problem: `${runs} runs were started, and ${over} ended: ${finished ?? 0} finished and ${early} before the end.`,
    };
  const on = written.on.trim();
  const entry = {
    date,
    ...(minutes !== undefined && { minutes }),
    runs,
    ...(finished !== undefined && { finished }),
    ...(ended.runs > 0 && { ended: ended.bySegment }),
    ...(Object.keys(tried.counts).length > 0 && { tried: tried.counts }),
    ...(Object.keys(first.counts).length > 0 && { first: first.counts }),
    ...(on !== '' && { on }),
  };
  return { entry, date };
}

function readEndings(
  endings: WrittenEveningForm['ended'],
  words: LogVocabulary,
):
  | { readonly bySegment: Readonly<Record<string, Readonly<Record<string, number>>>>; readonly runs: number }
  | WritingProblem {
  const bySegment = new Map<string, Record<string, number>>();
  let runs = 0;
  for (const { segment, why, runs: count } of endings) {
    const id = knownSegment(segment, words);
    if (typeof id !== 'string') return id;
    const number = optionalCount(count);
    if (number === null)
      return { problem: `Runs that ended in ${id}: a whole number such as 3, not ${count}.` };
    if (number === undefined || number === 0) continue;
    bySegment.set(id, { ...bySegment.get(id), [why]: (bySegment.get(id)?.[why] ?? 0) + number });
    runs += number;
  }
  return { bySegment: Object.fromEntries(bySegment), runs };
}

function readTried(
  tried: WrittenEveningForm['tried'],
  words: LogVocabulary,
): { readonly counts: Readonly<Record<string, readonly [number, number]>> } | WritingProblem {
  const counts = new Map<string, readonly [number, number]>();
  for (const [index, { use, landed, tries }] of tried.entries()) {
    const name = knownUse(use, words);
    if (typeof name !== 'string') return { ...name, index };
    if (landed.trim() === '' && tries.trim() === '') continue;
    const [most, of] = [readCount(landed), readCount(tries)];
    if (most === undefined || of === undefined || most > of)
      return {
        problem: `What was tried of ${name} is landed and tries such as 12 of 17, not ${landed || 'nothing'} of ${tries || 'nothing'}.`,
        index,
      };
    const [before, triesBefore] = counts.get(name) ?? [0, 0];
    if (of > 0) counts.set(name, [before + most, triesBefore + of]);
  }
  return { counts: Object.fromEntries(counts) };
}

function readCount(written: string): number | undefined {
  return /^\d{1,6}$/.test(written.trim()) ? Number(written) : undefined;
}

/** Undefined where nothing is written, null where it is no whole number. */
function optionalCount(written: string): number | undefined | null {
  return written.trim() === '' ? undefined : (readCount(written) ?? null);
}

/** The same for minutes, which may have decimals. */
function optionalMinutes(written: string): number | undefined | null {
  const text = written.trim();
  if (text === '') return undefined;
  const minutes = /^\d{1,4}(?:\.\d{1,3})?$/.test(text) ? Number(text) : Infinity;
  return minutes <= minutesPerDay ? minutes : null;
}
