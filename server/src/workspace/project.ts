import type {
  PoolDocument,
  PracticeDocument,
  RouteDocument,
  RunsDocument,
  Segment,
  Technique,
  WeekDocument,
} from '../files/documents/documents.ts';
import type { Reading } from '../files/reading/reading.ts';
import type { OrderedIdMap } from '../incremental/orderedIdMap.ts';

/** A file with its document and the reading it comes from. */
export interface SourceFile<D> {
  readonly uri: string;
  readonly reading: Reading;
  readonly document: D;
}

export type RouteFile = SourceFile<RouteDocument>;
export type PracticeFile = SourceFile<PracticeDocument>;
export type RunsFile = SourceFile<RunsDocument>;
export type WeekFile = SourceFile<WeekDocument>;
export type PoolFile = SourceFile<PoolDocument>;
export type ProjectFile =
  | (RouteFile & { readonly kind: 'route' })
  | (PracticeFile & { readonly kind: 'practice' })
  | (RunsFile & { readonly kind: 'runs' })
  | (WeekFile & { readonly kind: 'week' })
  | (PoolFile & { readonly kind: 'pool' });

/** Something defined in one of a project's route files. */
export type WithUri<T> = T & { readonly uri: string };

/** A route with everything that belongs to it. */
export interface Project {
  readonly route: RouteFile;
  /** The routes it extends, nearest first. */
  readonly bases: readonly RouteFile[];
  /** Practice counts for every route that shares techniques with this one; runs for their own route only. */
  readonly practice: readonly PracticeFile[];
  readonly runs: readonly RunsFile[];
  readonly weeks: readonly WeekFile[];
  /** Pools of the route, or of the nearest route it extends that has any. `poolInUse` says which one counts. */
  readonly pools: readonly PoolFile[];
  /** In the order of the run. */
  readonly segments: readonly WithUri<Segment>[];
  /** By id; where an extended route has the same id, the route's own technique counts. */
  readonly techniques: OrderedIdMap<WithUri<Technique>>;
  /** Those of the route file itself. */
  readonly ownTechniques: readonly WithUri<Technique>[];
  /** Former id → id of today, from the key `was`. */
  readonly renamed: ReadonlyMap<string, string>;
  /** The runner whose logs count, chosen for the route's folder; undefined where nobody was chosen. */
  readonly chosenRunner?: string | undefined;
  /** The runners named in the files that a command or a request is about; undefined where it is about no log or week. */
  readonly askedRunners?: readonly string[] | undefined;
}

/** A log, week or pool whose route cannot be used, and why. */
export interface Stray {
  readonly file: ProjectFile;
  readonly why: 'missing' | 'outside' | 'not-named';
  /** URI of the route that it names. */
  readonly route: string | undefined;
}

/** The id of today for a technique's current or former id; undefined where the route has no such technique. */
export function currentTechniqueId(project: Project, id: string): string | undefined {
  if (project.techniques.has(id)) return id;
  return project.renamed.get(id);
}
