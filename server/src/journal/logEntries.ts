import { listLengthAt, scalarTextAt } from '../files/edit/valueAt.ts';
import type { Reading } from '../files/reading/reading.ts';
import type { Path } from '../files/yaml/tree.ts';
import { parseMoment } from '../text/calendar.ts';
import type { Moment } from '../text/calendar.ts';

/** An entry as it stands in a log, whether or not the rest of it is well-formed. */
export interface LogEntryRef {
  readonly path: Path;
  readonly id: string | undefined;
}

/** Every block of a practice file, or every run of a runs file. */
export function logEntryRefs(reading: Reading): LogEntryRef[] {
  if (reading.kind === 'runs') return itemsOf(reading, ['runs']);
  return sessionPaths(reading).flatMap((path) => itemsOf(reading, [...path, 'blocks']));
}

export function sessionPaths(reading: Reading): Path[] {
  return Array.from({ length: listLengthAt(reading, ['sessions']) ?? 0 }, (_, at) => ['sessions', at]);
}

function itemsOf(reading: Reading, path: Path): LogEntryRef[] {
  const length = listLengthAt(reading, path) ?? 0;
  return Array.from({ length }, (_, at): LogEntryRef => {
    const item = [...path, at];
    const id = scalarTextAt(reading, [...item, 'id']);
    return { path: item, id };
  });
}

/** When a session, a run or an evening began. */
export function startMomentAt(reading: Reading, path: Path): Moment | undefined {
  const written = scalarTextAt(reading, [...path, 'start']) ?? scalarTextAt(reading, [...path, 'date']);
  return written === undefined ? undefined : parseMoment(written);
}

/** Ids of the entries that stand in a log. */
export function logEntryIds(reading: Reading): Set<string> {
  return new Set(logEntryRefs(reading).flatMap(({ id }) => id ?? []));
}
