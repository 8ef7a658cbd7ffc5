import type { Route } from '../../generated/types.ts';
import { defaultNumber } from '../schema/defaults.ts';
import type {
  BackwardsRange,
  Effect,
  Reference,
  RouteDocument,
  Segment,
  Technique,
  Use,
  WayToMiss,
} from './documents.ts';
import { EntryMapper } from './entryMapper.ts';
import type { Reading } from '../reading/reading.ts';
import { parseSecondsOrRange, parseTime, type UncertainSeconds } from '../../text/time.ts';
import type { Path } from '../yaml/tree.ts';
import { indexedItems } from '../yaml/value.ts';

const restart = defaultNumber('route', ['restart']);
const survive = defaultNumber('route', ['segments', 0, 'survive']);
const costs = defaultNumber('route', ['segments', 0, 'techniques', 0, 'costs']);
const attempt = defaultNumber('route', ['techniques', 'any', 'practice', 'attempt']);
const reload = defaultNumber('route', ['techniques', 'any', 'practice', 'reload']);
/** Where no spread is written: this share of the segment's time. */
const spreadShare = 0.02;

/** Makes the documents of route files; an entry that did not change is the same object in the next one. */
export class RouteDocumentBuilder {
  private readonly segments = new EntryMapper('segments', (value, index) =>
    segmentOf(value as Route.Segment, ['segments', index]),
  );
  private readonly techniques = new EntryMapper('techniques', (value, id) =>
    techniqueOf(String(id), value as Route.Technique, ['techniques', id]),
  );

  private readonly backwardsInSegments = new EntryMapper('segments', (value, index) =>
    backwardsInSegment(value as Route.Segment, ['segments', index]),
  );
  private readonly backwardsInTechniques = new EntryMapper('techniques', (value, id) =>
    undefinedIfEmpty(backwardsIn(value as Route.Technique, ['techniques', id])),
  );

  /** @param previous the reading of the same file before */
  build(reading: Reading, previous?: Reading): RouteDocument {
    return {
      ...outerOf(reading),
      segments: this.segments.map(reading, previous),
      techniques: this.techniques.map(reading, previous),
      backwards: [
        ...this.backwardsInSegments.map(reading, previous).flat(),
        ...this.backwardsInTechniques.map(reading, previous).flat(),
      ],
    };
  }
}

/** The route that a reading of a route file holds. */
export function buildRouteDocument(reading: Reading): RouteDocument {
  return new RouteDocumentBuilder().build(reading);
}

function outerOf(reading: Reading): Omit<RouteDocument, 'segments' | 'techniques' | 'backwards'> {
  const file = reading.outer as Partial<Route.RouteFile>;
  return {
    game: file.game,
    category: file.category,
    target: seconds(file.target),
    restart: file.restart ?? restart,
    extends: file.extends,
  };
}

function segmentOf(segment: Route.Segment, path: Path): Segment | undefined {
  const time = seconds(segment.time);
  if (time === undefined) return undefined;
  return {
    path,
    id: segment.id,
    name: segment.name ?? segment.id,
    time,
    spread: segment.spread ?? spreadShare * time,
    survive: segment.survive ?? survive,
    luck: segment.luck ?? [],
    uses: indexedItems(segment.techniques).map(([index, use]) => useOf(use, [...path, 'techniques', index])),
  };
}

function useOf(written: Route.UseOfATechnique, path: Path): Use {
  const short = typeof written === 'string';
  const use = short ? { use: written } : written;
  return {
    path,
    short,
    technique: use.use,
    id: use.id,
    spot: use.spot,
    backup: use.backup,
    retry: use.retry,
    maxTries: use.max_tries,
    take: use.take,
    costs: use.costs ?? costs,
    with: use.with,
    ...effectOf(use),
  };
}

function techniqueOf(id: string, technique: Route.Technique, path: Path): Technique | undefined {
  const effect = effectOf(technique);
  if (!effect.saves) return undefined;
  const { practice } = technique;
  return {
    path,
    id,
    name: technique.name ?? id,
    difficulty: technique.difficulty,
    needs: toReferences(technique.needs, [...path, 'needs']),
    was: toReferences(technique.was, [...path, 'was']),
    practice: {
      attempt: practice?.attempt ?? attempt,
      reload: practice?.reload ?? reload,
      from: practice?.from,
    },
    ...effect,
  };
}

interface WrittenEffect {
  readonly saves?: number | string;
  readonly loses?: number | string;
  readonly ends_run?: boolean;
  readonly miss?: readonly Route.WayToMiss[];
}

function effectOf(written: WrittenEffect): Effect {
  const saves = length(written.saves);
  const loses = length(written.loses);
  return {
    ...(saves && { saves }),
    ...(loses && { loses }),
    ...(written.ends_run !== undefined && { endsRun: written.ends_run }),
    ...(written.miss && { miss: written.miss.map(wayToMiss) }),
  };
}

const backwards = /^\s*(\d+(?:\.\d+)?)\.\.(\d+(?:\.\d+)?)\s*$/;

function backwardsInSegment({ techniques }: Route.Segment, path: Path): BackwardsRange[] | undefined {
  return undefinedIfEmpty(
    indexedItems(techniques).flatMap(([at, use]) =>
      typeof use === 'string' ? [] : backwardsIn(use, [...path, 'techniques', at]),
    ),
  );
}

function backwardsIn(written: WrittenEffect, path: Path): BackwardsRange[] {
  return (['saves', 'loses'] as const).flatMap((key) => {
    const value = written[key];
    const [, low, high] = (typeof value === 'string' && backwards.exec(value)) || [];
    return low !== undefined && high !== undefined && Number(high) < Number(low)
      ? [{ path: [...path, key], low, high }]
      : [];
  });
}

function undefinedIfEmpty<T>(list: T[]): T[] | undefined {
  return list.length > 0 ? list : undefined;
}

function wayToMiss(way: Route.WayToMiss): WayToMiss {
  return { chance: way.chance, loses: way.loses ?? 0, endsRun: way.ends_run ?? false };
}

/** Ids in a list, each with its place. */
export function toReferences(ids: readonly string[] | undefined, path: Path): Reference[] {
  return indexedItems(ids).map(([index, id]) => ({ id, path: [...path, index] }));
}

function seconds(written: number | string | undefined): number | undefined {
  return written === undefined ? undefined : parseTime(written);
}

function length(written: number | string | undefined): UncertainSeconds | undefined {
  return written === undefined ? undefined : parseSecondsOrRange(written);
}
