import { weekDefaults } from '../../files/documents/weekDocument.ts';
import type { RunnerPart } from '../../model/pool/countOnce.ts';
import { tooFewEntries, type NotCounted, notRead } from '../../reports/pool/poolWords.ts';
import { runnerDayOf } from '../../text/calendar.ts';
import { formatCount } from '../../text/format.ts';
import { type Io, printNotice } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';
import { countRunners, lastDayOf, type Progress, usualThreads } from './countRunners.ts';
import { concern, type ReadGiven } from './readGiven.ts';
import type { CountingRoute, RunnerCount, RunnerTask } from './runnerTask.ts';

/** How the logs are counted. */
export interface Counting {
  /** Day number up to which logs count; `last`: the day after the last entry; undefined: today. */
  readonly asOf: number | 'last' | undefined;
  /** How many runners are counted at the same time; undefined: as many as there are cores. */
  readonly threads: number | undefined;
}

/** What the logs add. */
export interface CountedLogs {
  readonly parts: readonly RunnerPart[];
  /** Day number up to which they count. */
  readonly asOf: number;
  /** Day number of the last entry of each runner, by digest. */
  readonly lastDays: ReadonlyMap<string, number>;
  readonly notCounted: readonly NotCounted[];
  /** Whether something of a runner could not be read. */
  readonly incomplete: boolean;
}

/**
 * Counts the runners in the logs that were given. Says on stderr what could not be read.
 *
 * @param show is told what is done now, in half a sentence
 */
export async function countLogs(
  { files, route: { project }, tasks }: ReadGiven,
  { asOf: asked, threads }: Counting,
  io: Io,
  show: (what: string) => void,
): Promise<CountedLogs> {
  const chain = [project.route, ...project.bases];
  const route: CountingRoute = {
    route: project.route.uri,
    texts: Object.fromEntries(chain.map(({ uri, reading }) => [uri, reading.text])),
    within: files.reach,
    asOf: typeof asked === 'number' ? asked : runnerDayOf(io.now(), weekDefaults.dayStarts),
  };
  const division = threads === undefined ? usualThreads : { ...usualThreads, threads };
  const progress =
    (doing: string): Progress =>
    (done, of) =>
      show(`${doing} runner ${Math.min(done + 1, of)} of ${of}`);
  const last =
    asked === 'last'
      ? await lastDayOf(tasks, { ...route, asOf: Infinity }, progress('Reading'), division)
      : undefined;
  const dated = last === undefined ? route : { ...route, asOf: last + 1 };
  const counts = await countRunners(tasks, dated, progress('Counting'), division);
  return { ...sortOut(tasks, counts, io), asOf: dated.asOf };
}

function sortOut(
  tasks: readonly RunnerTask[],
  counts: readonly RunnerCount[],
  io: Io,
): Omit<CountedLogs, 'asOf'> {
  const nameOf = relativeNames(io.cwd);
  const parts: RunnerPart[] = [];
  const lastDays = new Map<string, number>();
  const notCounted: NotCounted[] = [];
  let [errors, inRunners] = [0, 0];
  let incomplete = false;
  for (const [at, count] of counts.entries()) {
    const { contribution, entries, lastDay = -Infinity, unread, tooLarge } = count;
    const place = nameOf(tasks[at]!.files.find(({ kind }) => kind !== 'week')!.uri);
    for (const { uri, message } of unread) printNotice(io, `${nameOf(uri)}: ${message}`);
    errors += count.errors;
    inRunners += count.errors > 0 ? 1 : 0;
    if (contribution !== undefined) {
      const { digest, techniques } = contribution;
      parts.push({ place, digest, entries, techniques });
      lastDays.set(digest, Math.max(lastDays.get(digest) ?? -Infinity, lastDay));
      continue;
    }
    const readable = unread.length === 0 && tooLarge === undefined;
    incomplete ||= !readable;
    notCounted.push({ source: place, reason: readable ? tooFewEntries : (tooLarge ?? notRead) });
  }
  if (errors > 0)
    printNotice(
      io,
      `${formatCount(errors, 'error')} in the logs of ${formatCount(inRunners, 'runner')}: what ${concern(errors)} does not count. routewright check says where.`,
    );
  return { parts, lastDays, notCounted, incomplete };
}
