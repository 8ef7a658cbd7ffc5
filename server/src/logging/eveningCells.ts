import type { LogEntry } from '../journal/journalLines.ts';
import type { WrittenEveningForm } from '../protocol/runLog/writtenRun.ts';
import type { LogVocabulary, WritingProblem } from './logVocabulary.ts';
import { readEvening } from './readEvening.ts';
import { endings, splitTried } from './readRun.ts';

/** An evening of runs in short, as the cells of a table hold it. Keys that are left out were not filled in. */
export interface EveningCells {
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

/** Reads an evening from the cells of a table. Never throws. */
export function readEveningCells(
  { date, runs, finished = '', minutes = '', tried, first, ended = '', on = '' }: EveningCells,
  words: LogVocabulary,
): { readonly entry: LogEntry } | WritingProblem {
  if (date.includes('T'))
    return { problem: `An evening of several runs has a date alone, not ${date}.`, part: 'start' };
  const parts = { tried: tried.map(splitTried), first: first.map(splitTried), ended: endsIn(ended) };
  for (const part of ['tried', 'first', 'ended'] as const)
    for (const [index, read] of parts[part].entries()) if ('problem' in read) return { ...read, part, index };
  const read = <Part extends object>(of: readonly (Part | WritingProblem)[]): Part[] =>
    of.filter((part): part is Part => !('problem' in part));
  return readEvening(
    {
      ...{ date, runs, finished, minutes, on },
      ...{ tried: read(parts.tried), first: read(parts.first), ended: read(parts.ended) },
    },
    words,
    { table: true },
  );
}

function endsIn(cell: string): (WrittenEveningForm['ended'][number] | WritingProblem)[] {
  const parts = cell.split(/[\s;,]/).filter((part) => part !== '');
  return parts.map((part) => {
    const [, segment = '', written = '', runs = ''] =
      /^([^:=]{1,200}):([a-z]{1,10})=(\d{1,6})$/.exec(part) ?? [];
    const why = endings.find((one) => one === written);
    return why === undefined
      ? { problem: `The ends of an evening are such as harbor:reset=20 harbor:death=5, not ${part}.` }
      : { segment, why, runs };
  });
}
