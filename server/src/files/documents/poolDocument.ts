import type { Pool } from '../../generated/types.ts';
import { parseMoment } from '../../text/calendar.ts';
import type { PoolDocument, PoolNumbers, Reference, TechniqueInPool } from './documents.ts';
import { EntryMapper } from './entryMapper.ts';
import type { CheckedSection } from '../schema/checkFile.ts';
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
function faultyTechniques({ tree, sections, problems }: Reading): ReadonlySet<string> {
  const faulty = new Set<string>();
  const section = sections.get('techniques');
  if (!section || problems.length === 0) return faulty;
  for (const { name, problems: own } of section.entries)
    if (name !== undefined && own.length > 0) faulty.add(name);
  // What is wrong with the text itself is known by its place only: it belongs to the key that it stands behind.
  const beginnings = tree.entries.flatMap(({ key, shift }) => [
    { at: key.start + shift, technique: undefined },
    ...(key.value === 'techniques' ? beginningsIn(section, shift) : []),
  ]);
  beginnings.sort((a, b) => a.at - b.at);
  let next = 0;
  for (const { start } of problems) {
    while (next < beginnings.length && beginnings[next]!.at <= start) next++;
    const technique = beginnings[next - 1]?.technique;
    if (technique !== undefined) faulty.add(technique);
  }
  return faulty;
}

/** @param shift added to offsets inside the section */
function beginningsIn({ items }: CheckedSection, shift: number) {
  return items.flatMap((item) =>
    'key' in item ? [{ at: item.key.start + item.shift + shift, technique: String(item.key.value) }] : [],
  );
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
