/** Values of log entries as cells of a table, in the notation that `log --import` reads. */
import { isMap } from '../../files/yaml/value.ts';
import type { TableCell } from '../../tables/tableCells.ts';
import { formatTime } from '../../text/time.ts';

/** An entry as it is written in a file. */
export type RawEntry = Readonly<Record<string, unknown>>;

/** A list of entries; empty where the value is none. */
export function rawEntries(value: unknown): readonly RawEntry[] {
  return Array.isArray(value) ? value.filter(isMap) : [];
}

/** A text or a number as it is; anything else as JSON. */
export function plainCell(value: unknown): TableCell {
  if (value === undefined || value === null) return undefined;
  return typeof value === 'string' || typeof value === 'number' ? value : JSON.stringify(value);
}

/** A time as `m:ss.s` with every digit that is written, which no reader takes for a count. */
export function timeCell(value: unknown): TableCell {
  if (typeof value !== 'number' || value < 60) return plainCell(value);
  const digits = /\.(\d{1,20})$/.exec(String(value))?.[1]?.length ?? 0;
  return formatTime(value, digits);
}

/** One of the two numbers of `[landed, tries]`. */
export function countCell(value: unknown, at: 0 | 1): TableCell {
  return isCounts(value) ? value[at] : undefined;
}

/** `6 of 10`, which no spreadsheet takes for a date. */
export function countsCell(value: unknown): TableCell {
  return isCounts(value) ? `${value[0]} of ${value[1]}` : undefined;
}

/** `crate-vault=1/2 wall-kick@second=0/1` */
export function triedCell(value: unknown): TableCell {
  if (!isMap(value)) return undefined;
  const parts = Object.entries(value).flatMap(([name, counts]) =>
    isCounts(counts) ? [`${name}=${counts[0]}/${counts[1]}`] : [],
  );
  return parts.length === 0 ? undefined : parts.join(' ');
}

/** `harbor:miss:crate-vault` for a run, `harbor:reset=20 harbor:death=5` for an evening. */
export function endedCell(value: unknown): TableCell {
  if (!isMap(value)) return undefined;
  const { at, why, by } = value;
  if (typeof at === 'string') return [at, why, by].filter((word) => typeof word === 'string').join(':');
  const parts = Object.entries(value).flatMap(([segment, counts]) =>
    isMap(counts)
      ? Object.entries(counts).map(([reason, count]) => `${segment}:${reason}=${String(count)}`)
      : [],
  );
  return parts.length === 0 ? undefined : parts.join(' ');
}

function isCounts(value: unknown): value is readonly [number, number] {
  return Array.isArray(value) && value.length === 2 && value.every((one) => typeof one === 'number');
}
