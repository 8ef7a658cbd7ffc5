/** The five kinds of file, told apart by their ending. */
export type FileKind = 'route' | 'practice' | 'runs' | 'week' | 'pool';

export const fileKinds: readonly FileKind[] = ['route', 'practice', 'runs', 'week', 'pool'];

const ending = /\.(route|practice|runs|week|pool)\.ya?ml$/i;

/** Kind of a file by its name or URI; undefined where it is none of ours. */
export function fileKindOf(name: string): FileKind | undefined {
  return ending.exec(name)?.[1]?.toLowerCase() as FileKind | undefined;
}

/** What comes before the kind's ending: `a/lanternfall` of `a/lanternfall.route.yaml`. */
export function stemOf(name: string): string {
  return name.replace(ending, '');
}

/** A key whose entries are read one by one. */
export interface EntryCollection {
  readonly key: string;
  readonly shape: 'list' | 'map';
  /** The same within an entry, for one that is long. */
  readonly inner?: readonly EntryCollection[];
}

/** A top-level key whose entries are checked one by one, too. */
export interface FileSection extends EntryCollection {
  /** Name of the schema definition, and of the validator, of one entry. */
  readonly entry: 'segment' | 'technique' | 'session' | 'run' | 'pooled';
}

export const sectionsByKind: Readonly<Record<FileKind, readonly FileSection[]>> = {
  route: [
    { key: 'segments', shape: 'list', entry: 'segment', inner: [{ key: 'techniques', shape: 'list' }] },
    { key: 'techniques', shape: 'map', entry: 'technique' },
  ],
  practice: [{ key: 'sessions', shape: 'list', entry: 'session', inner: [{ key: 'blocks', shape: 'list' }] }],
  runs: [{ key: 'runs', shape: 'list', entry: 'run' }],
  week: [],
  pool: [{ key: 'techniques', shape: 'map', entry: 'pooled' }],
};
