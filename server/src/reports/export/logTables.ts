/** A runner's logs as tables with one row for each block or run. `log --import` reads both. */
import { isMap } from '../../files/yaml/value.ts';
import { isEntryId } from '../../tables/cellWords.ts';
import type { TableCell } from '../../tables/tableCells.ts';
import {
  countCell,
  countsCell,
  endedCell,
  plainCell,
  type RawEntry,
  rawEntries,
  timeCell,
  triedCell,
} from './entryCells.ts';

export interface ExportTable {
  readonly headings: readonly string[];
  readonly rows: readonly (readonly TableCell[])[];
}

interface ColumnOf {
  readonly heading: string;
  readonly cell: (entry: RawEntry) => TableCell;
  /** Whether it is there also where nothing is in it. */
  readonly always?: boolean;
}

/**
 * Blocks of practice, oldest first.
 *
 * @param logs the values of the practice files
 */
export function practiceTable(logs: readonly RawEntry[]): ExportTable {
  const blocks = logs.flatMap(({ sessions }) =>
    rawEntries(sessions).flatMap(({ start, blocks: list }) =>
      rawEntries(list).map((block) => ({ ...block, start })),
    ),
  );
  const columns: ColumnOf[] = [
    { heading: 'start', cell: ({ start }) => plainCell(start), always: true },
    { heading: 'technique', cell: ({ technique }) => plainCell(technique), always: true },
    { heading: 'segment', cell: ({ segment }) => plainCell(segment) },
    { heading: 'minutes', cell: ({ minutes }) => plainCell(minutes), always: true },
    { heading: 'landed', cell: ({ landed }) => countCell(landed, 0), always: true },
    { heading: 'tries', cell: ({ landed }) => countCell(landed, 1), always: true },
    { heading: 'seen', cell: ({ seen }) => countsCell(seen) },
    { heading: 'attempts', cell: ({ attempts }) => plainCell(attempts) },
    { heading: 'tape', cell: ({ tape }) => plainCell(tape) },
    { heading: 'tried', cell: ({ tried }) => triedCell(tried) },
  ];
  return tableOf(blocks, [...columns, ...commonColumns(blocks, 'b')]);
}

/**
 * Runs and evenings, oldest first, with a column for the time of each segment.
 *
 * @param logs the values of the run logs
 * @param segments ids in the order of the route
 */
export function runsTable(logs: readonly RawEntry[], segments: readonly string[]): ExportTable {
  const runs = logs.flatMap(({ runs: list }) =>
    rawEntries(list).map((run) => ({ ...run, start: run.start ?? run.date })),
  );
  const timed = new Set(runs.flatMap(({ times }: RawEntry) => (isMap(times) ? Object.keys(times) : [])));
  const ordered = [
    ...segments.filter((id) => timed.has(id)),
    ...[...timed].filter((id) => !segments.includes(id)),
  ];
  const columns: ColumnOf[] = [
    { heading: 'start', cell: ({ start }) => plainCell(start), always: true },
    { heading: 'total', cell: ({ total }) => timeCell(total), always: true },
    ...ordered.map((id) => ({
      heading: id,
      cell: ({ times }: RawEntry) => (isMap(times) ? timeCell(times[id]) : undefined),
    })),
    { heading: 'tried', cell: ({ tried }) => triedCell(tried), always: true },
    { heading: 'first', cell: ({ first }) => triedCell(first) },
    { heading: 'ended', cell: ({ ended }) => endedCell(ended), always: true },
    { heading: 'runs', cell: ({ runs: started }) => plainCell(started) },
    { heading: 'finished', cell: ({ finished }) => plainCell(finished) },
    { heading: 'minutes', cell: ({ minutes }) => plainCell(minutes) },
  ];
  return tableOf(runs, [...columns, ...commonColumns(runs, 'r')]);
}

/** What entries of both kinds have at their ends. */
function commonColumns(entries: readonly RawEntry[], letter: 'b' | 'r'): ColumnOf[] {
  const own = [...new Set(entries.flatMap((entry) => Object.keys(entry)))].filter((key) =>
    key.startsWith('x-'),
  );
  const ids = idsOf(entries, letter);
  return [
    { heading: 'on', cell: ({ on }) => plainCell(on) },
    { heading: 'notes', cell: ({ notes }) => plainCell(notes) },
    ...own.map((key) => ({ heading: key, cell: (entry: RawEntry) => plainCell(entry[key]) })),
    { heading: 'id', cell: (entry) => ids.get(entry) },
  ];
}

/**
 * The ids that entries have. One that says the same as an earlier one gets an id where it has none: without, an import
 * would take the two for one.
 */
function idsOf(entries: readonly RawEntry[], letter: 'b' | 'r'): ReadonlyMap<RawEntry, string> {
  const ids = new Map<RawEntry, string>();
  const seen = new Map<string, number>();
  const taken = new Set<string>();
  for (const entry of entries) {
    const { id, ...rest } = entry;
    const key = JSON.stringify(rest);
    const times = (seen.get(key) ?? 0) + 1;
    seen.set(key, times);
    if (typeof id === 'string' && isEntryId(id) && !taken.has(id)) ids.set(entry, id);
    else if (times > 1) {
      const day = String(entry.start).replaceAll(/[^0-9]/g, '');
      let number = times;
      while (taken.has(`${letter}-${day}-${number}`)) number += 1;
      ids.set(entry, `${letter}-${day}-${number}`);
    }
    const given = ids.get(entry);
    if (given !== undefined) taken.add(given);
  }
  return ids;
}

/** A table of the columns that hold something. */
function tableOf(entries: readonly RawEntry[], columns: readonly ColumnOf[]): ExportTable {
  const sorted = entries
    .map((entry, at) => ({ entry, at }))
    .sort((a, b) => compare(String(a.entry.start), String(b.entry.start)) || a.at - b.at)
    .map(({ entry }) => entry);
  const kept = columns.filter(
    ({ cell, always = false }) => always || sorted.some((entry) => cell(entry) !== undefined),
  );
  return {
    headings: kept.map(({ heading }) => heading),
    rows: sorted.map((entry) => kept.map(({ cell }) => cell(entry))),
  };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
