import { locate, type Path, type Place } from '../files/yaml/tree.ts';
import type { Reading } from '../files/reading/reading.ts';
import { parseMoment } from '../text/calendar.ts';
import type { Moment } from '../text/calendar.ts';

/** An entry as it stands in a log, whether or not the rest of it is well-formed. */
export interface LogEntryRef {
  readonly path: Path;
  readonly id: string | undefined;
}

/** Where a list stands, and how many items it has; undefined where there is none. */
export function listAt({ tree }: Reading, path: Path): { place: Place; length: number } | undefined {
  const place = locate(tree, path);
  return place.exact && place.tree?.type === 'list' ? { place, length: place.tree.items.length } : undefined;
}

/** Every block of a practice file, or every run of a runs file. */
export function logEntryRefs(reading: Reading): LogEntryRef[] {
  if (reading.kind === 'runs') return itemsOf(reading, ['runs']);
  return sessionPaths(reading).flatMap((path) => itemsOf(reading, [...path, 'blocks']));
}

export function sessionPaths(reading: Reading): Path[] {
  return Array.from({ length: listAt(reading, ['sessions'])?.length ?? 0 }, (_, at) => ['sessions', at]);
}

function itemsOf(reading: Reading, path: Path): LogEntryRef[] {
  const length = listAt(reading, path)?.length ?? 0;
  return Array.from({ length }, (_, at): LogEntryRef => {
    const item = [...path, at];
    const id = scalarTextAt(reading, [...item, 'id']);
    return { path: item, id };
  });
}

/** The word at a path; undefined where something else stands there or nothing. */
export function scalarTextAt({ tree }: Reading, path: Path): string | undefined {
  const place = locate(tree, path);
  if (!place.exact || place.tree?.type !== 'scalar') return undefined;
  const { value } = place.tree;
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : undefined;
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
