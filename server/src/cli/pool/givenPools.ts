import { buildPoolDocument } from '../../files/documents/poolDocument.ts';
import { readSource, unreadReading } from '../../files/reading/reading.ts';
import { isUnread, type Unread } from '../../files/reading/unread.ts';
import { pooledProperties } from '../../model/pool/addUp.ts';
import type { PoolPart } from '../../model/pool/countOnce.ts';
import type { PooledTechnique } from '../../model/pool/pooledTechnique.ts';
import { overstatedTechniques } from '../../queries/overstatedInPool.ts';
import { pooledTechniques } from '../../queries/poolInUse.ts';
import { locateFindings, type LocatedFinding } from '../../reports/check/checkReport.ts';
import { moreCountedThanNamed } from '../../rules/checks/pool/moreCountedThanNamed.ts';
import { pooledRunnerTwice } from '../../rules/checks/pool/pooledRunnerTwice.ts';
import { poolOfOtherCurves } from '../../rules/checks/pool/poolOfOtherCurves.ts';
import { readingFindings, sortFindings } from '../../rules/checkProject.ts';
import { type Finding, toFinding } from '../../rules/engine/findings.ts';
import type { RuleReport } from '../../rules/engine/rule.ts';
import type { TechniqueInPool } from '../../files/documents/documents.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import { fileName } from '../../workspace/fileName.ts';
import { folderOf } from '../../workspace/folderOf.ts';
import type { PoolFile, Project } from '../../workspace/project.ts';

/** A pool file that was read. */
export interface ReadPool extends PoolFile {
  /** File name of the route that it names; undefined where none can be read. */
  readonly routeName: string | undefined;
}

/** A pool file; undefined where there is none. One that is not read has that for a problem. */
export async function readPool(
  source: Pick<FileSource, 'read'>,
  uri: string,
  within: readonly string[],
): Promise<ReadPool | undefined> {
  const text = await source.read(uri, within);
  return text === undefined ? undefined : poolFromText(uri, text);
}

/** The pool in a text. */
export function poolFromText(uri: string, text: string | Unread): ReadPool {
  const reading = isUnread(text) ? unreadReading('pool', text) : readSource('pool', text);
  const document = buildPoolDocument(reading);
  const { route } = document;
  return { uri, reading, document, routeName: route?.replaceAll('\\', '/').split('/').at(-1) };
}

/** What a pool adds, or why nothing of it is used. */
export type UsedPool =
  | {
      readonly part: PoolPart;
      /** Techniques that the route does not have, or has under two ids of the pool. */
      readonly unknown: readonly TechniqueInPool[];
    }
  | { readonly faults: readonly LocatedFinding[] };

/** A problem of its own that `check` has no rule for. */
const overstated = { code: 'overstated-in-pool', severity: 'error' } as const;

/**
 * What a pool of this route adds. A pool is used as a whole or not at all: where something in it is wrong, nobody can say what
 * the rest was counted from.
 *
 * @param place what it is called where it is said not to count
 */
export function usePool(pool: ReadPool, project: Project, place: string): UsedPool {
  const faults = faultsOf(pool, project);
  if (faults.length > 0)
    return {
      faults: locateFindings(
        faults,
        () => pool.reading.text,
        () => place,
      ),
    };
  const { runners, day, techniques } = pool.document;
  const used = pooledTechniques(project, pool);
  const known = new Set(used.values());
  return {
    part: {
      place,
      runners,
      day: day!.date,
      techniques: new Map([...used].map(([id, technique]) => [id, numbersOf(technique)])),
    },
    unknown: techniques.filter((technique) => !known.has(technique)),
  };
}

/** Mistakes in the text, and what the rules find because of which its numbers cannot be added up. */
function faultsOf(pool: ReadPool, project: Project): Finding[] {
  const mistakes = readingFindings(pool);
  if (mistakes.length > 0) return mistakes;
  const alone = besideRoute(pool, project);
  const found = [poolOfOtherCurves, pooledRunnerTwice, moreCountedThanNamed].flatMap((rule) =>
    [...(rule.check?.({ project: alone, own: nobody, today: 0 }) ?? [])].map((report) =>
      findingOf(pool, rule, report),
    ),
  );
  const [first, ...others] = overstatedTechniques(pool.document);
  if (first !== undefined) {
    const more = ['', ' So does 1 more.'][others.length] ?? ` So do ${others.length} more.`;
    const message = `\`${first.id}\` has numbers that ${first.runners} runners cannot come to.${more} Make the pool again from the logs.`;
    found.push(findingOf(pool, overstated, { uri: pool.uri, path: first.path, part: 'key', message }));
  }
  return sortFindings(found);
}

const nobody = { runner: undefined, practice: [], runs: [], week: undefined };

function findingOf(
  { uri, reading }: ReadPool,
  rule: Parameters<typeof toFinding>[1],
  report: RuleReport,
): Finding {
  return toFinding(() => reading, rule, { ...report, uri });
}

/** The route with this pool alone, as if it lay beside it: the rules look at a route's pool there. */
function besideRoute(pool: ReadPool, project: Project): Project {
  const { uri } = project.route;
  const there: PoolFile = {
    uri: `${folderOf(uri)}/given.pool.yaml`,
    reading: pool.reading,
    document: { ...pool.document, route: fileName(uri) },
  };
  return { ...project, pools: [there] };
}

/** Without what a document has beside the numbers. */
function numbersOf(technique: TechniqueInPool): PooledTechnique {
  const { runners, difficulty, midway } = technique;
  const numbers: PooledTechnique = { runners, difficulty, midway };
  for (const property of pooledProperties) {
    const told = technique[property];
    if (told !== undefined) Object.assign(numbers, { [property]: told });
  }
  return numbers;
}
