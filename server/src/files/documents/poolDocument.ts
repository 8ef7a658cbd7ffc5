import type { Pool } from '../../generated/types.ts';
import { parseMoment } from '../../text/calendar.ts';
import type { PoolDocument, PoolNumbers, Reference, TechniqueInPool } from './documents.ts';
import { EntryMapper } from './entryMapper.ts';
import type { Reading } from '../reading/reading.ts';
import { toReferences } from './routeDocument.ts';

/** Makes the documents of pool files; a technique that did not change is the same object in the next one. */
export class PoolDocumentBuilder {
  private readonly techniques = new EntryMapper('techniques', (value, id) =>
    techniqueInPool(String(id), value as Pool.PooledTechnique),
  );

  /**
   * What a reading of a pool file holds. A technique with a mistake in it is left out: nobody could tell what its
   * numbers were meant to be. The others count.
   *
   * @param previous the reading of the same file before
   */
  build(reading: Reading, previous?: Reading): PoolDocument {
    const { route, model, day, runners } = reading.outer as Partial<Pool.PoolFile>;
    const all = this.techniques.map(reading, previous);
    const faulty = faultyTechniques(reading);
    return {
      route,
      model,
      day: day === undefined ? undefined : parseMoment(day),
      ...distinctRunners(toReferences(runners, ['runners'])),
      techniques: faulty.size === 0 ? all : all.filter(({ id }) => !faulty.has(id)),
    };
  }
}

/** What a reading of a pool file holds. */
export function buildPoolDocument(reading: Reading): PoolDocument {
  return new PoolDocumentBuilder().build(reading);
}

function techniqueInPool(id: string, pooled: Pool.PooledTechnique): TechniqueInPool {
  const { runners, difficulty, midway, loss, suddenness, ceiling, floor } = pooled;
  return {
    path: ['techniques', id],
    id,
    runners,
    difficulty,
    midway: numbersOf(midway),
    ...(loss && { loss: numbersOf(loss) }),
    ...(suddenness && { suddenness: numbersOf(suddenness) }),
    ...(ceiling && { ceiling: numbersOf(ceiling) }),
    ...(floor && { floor: numbersOf(floor) }),
  };
}

/** The numbers as they are written, whatever their count: the schema has counted them. */
interface WrittenNumbers {
  readonly quarter: readonly number[];
  readonly half: readonly number[];
  readonly three_quarters: readonly number[];
  readonly nearly_all: readonly number[];
}

function numbersOf(written: WrittenNumbers): PoolNumbers {
  return {
    quarter: written.quarter,
    half: written.half,
    threeQuarters: written.three_quarters,
    nearlyAll: written.nearly_all,
  };
}

/** Ids of the techniques in which reading found a problem, be it of the text or of a value. */
function faultyTechniques({ sections, problems }: Reading): ReadonlySet<string> {
  const faulty = new Set<string>();
  const section = sections.get('techniques');
  if (!section || problems.length === 0) return faulty;
  let next = 0;
  for (const [at, { name, span, problems: own }] of section.entries.entries()) {
    const shift = section.items[at]!.shift;
    // Both are in the order of the text.
    while (next < problems.length && problems[next]!.start < span.start + shift) next++;
    const within = problems[next]?.start ?? Infinity;
    if (name !== undefined && (own.length > 0 || within <= span.end + shift)) faulty.add(name);
  }
  return faulty;
}

/** The digests, each once, and those that stand there again. */
function distinctRunners(written: readonly Reference[]): Pick<PoolDocument, 'runners' | 'repeatedRunners'> {
  const runners = new Set<string>();
  const repeatedRunners: Reference[] = [];
  for (const one of written) {
    if (runners.has(one.id)) repeatedRunners.push(one);
    else runners.add(one.id);
  }
  return { runners: [...runners], repeatedRunners };
}
