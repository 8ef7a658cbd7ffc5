import type { Route } from '../generated/types.ts';
import { defaultNumber } from './defaults.ts';
import type { Effect, Reference, RouteDocument, Segment, Technique, Use, WayToMiss } from './documents.ts';
import type { Reading } from './read.ts';
import { parseLength, parseTime, type Length } from './time.ts';
import type { Path } from './tree.ts';
import { items } from './value.ts';

const restart = defaultNumber('route', ['restart']);
const survive = defaultNumber('route', ['segments', 0, 'survive']);
const costs = defaultNumber('route', ['segments', 0, 'techniques', 0, 'costs']);
const attempt = defaultNumber('route', ['techniques', 'any', 'practice', 'attempt']);
const reload = defaultNumber('route', ['techniques', 'any', 'practice', 'reload']);
/** Where no spread is written: this share of the segment's time. */
const spreadShare = 0.02;

/**
 * What was made of each entry's value, with the index at which it stood: an entry that did not change is the same
 * object in the next document.
 */
export class RouteEntries {
  private readonly segments = new WeakMap<Route.Segment, { index: number; segment: Segment | undefined }>();
  private readonly techniques = new WeakMap<
    Route.Technique,
    { id: string; technique: Technique | undefined }
  >();

  segment(value: Route.Segment, index: number): Segment | undefined {
    const kept = this.segments.get(value);
    if (kept?.index === index) return kept.segment;
    const segment = segmentOf(value, ['segments', index]);
    this.segments.set(value, { index, segment });
    return segment;
  }

  technique(value: Route.Technique, id: string): Technique | undefined {
    const kept = this.techniques.get(value);
    if (kept?.id === id) return kept.technique;
    const technique = techniqueOf(id, value, ['techniques', id]);
    this.techniques.set(value, { id, technique });
    return technique;
  }
}

/**
 * The route that a reading of a route file holds.
 *
 * @param entries what was made of the file's entries before
 */
export function routeOf(reading: Reading, entries = new RouteEntries()): RouteDocument {
  const file = reading.value as Partial<Route.RouteFile>;
  const segments: Segment[] = [];
  for (const [index, value] of items(file.segments)) {
    const segment = entries.segment(value, index);
    if (segment) segments.push(segment);
  }
  const techniques: Technique[] = [];
  const written = file.techniques ?? {};
  for (const id of Object.keys(written)) {
    const technique = entries.technique(written[id]!, id);
    if (technique) techniques.push(technique);
  }
  return {
    game: file.game,
    category: file.category,
    target: seconds(file.target),
    restart: file.restart ?? restart,
    extends: file.extends,
    segments,
    techniques,
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
    uses: items(segment.techniques).map(([index, use]) => useOf(use, [...path, 'techniques', index])),
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
    needs: references(technique.needs, [...path, 'needs']),
    was: references(technique.was, [...path, 'was']),
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

function wayToMiss(way: Route.WayToMiss): WayToMiss {
  return { chance: way.chance, loses: way.loses ?? 0, endsRun: way.ends_run ?? false };
}

/** Ids in a list, each with its place. */
export function references(ids: readonly string[] | undefined, path: Path): Reference[] {
  return items(ids).map(([index, id]) => ({ id, path: [...path, index] }));
}

function seconds(written: number | string | undefined): number | undefined {
  return written === undefined ? undefined : parseTime(written);
}

function length(written: number | string | undefined): Length | undefined {
  return written === undefined ? undefined : parseLength(written);
}
