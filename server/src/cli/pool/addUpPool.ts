import { addByRating } from '../../model/pool/addByRating.ts';
import { countOnce, type MixedPools, type PoolPart } from '../../model/pool/countOnce.ts';
import type { PooledTechnique } from '../../model/pool/pooledTechnique.ts';
import { formatPosition } from '../../reports/check/checkText.ts';
import { type LeftOut, poolSum, type PoolSum } from '../../reports/pool/poolReport.ts';
import {
  type NotCounted,
  nameless,
  nobodysLog,
  notInRoute,
  nothingOfPool,
  nothingTold,
  uncountedReason,
  unusablePool,
} from '../../reports/pool/poolWords.ts';
import { cutShortNotice } from '../project/loadFiles.ts';
import { cliError, type CliError, isCliError } from '../terminal/cliError.ts';
import { type Io, printNotice, slowProgress } from '../terminal/io.ts';
import { relativeNames } from '../terminal/paths.ts';
import { type CountedLogs, type Counting, countLogs } from './countLogs.ts';
import { type ReadPool, usePool } from './givenPools.ts';
import type { PoolRoute } from './poolRoute.ts';
import { type Given, type ReadGiven, readGiven } from './readGiven.ts';

/** What a person asks for. */
export interface PoolRequest extends Given, Counting {
  /** A technique that fewer practised is not told of. */
  readonly minRunners: number;
}

/** A sum of runners and pools. */
export interface AddedUp extends PoolSum {
  readonly route: PoolRoute;
  /** Day number for the pool. */
  readonly day: number;
  /** Digests of those of whom something is told. */
  readonly runners: readonly string[];
  /** Day number of the last entry of those whose logs are here, by digest. */
  readonly lastDays: ReadonlyMap<string, number>;
  readonly notCounted: readonly NotCounted[];
  /** Pools of the route that are here: earlier versions perhaps. */
  readonly others: readonly { readonly shown: string; readonly pool: ReadPool }[];
  /** How many of the given pools are not used because of what is wrong with them. */
  readonly unusable: number;
  /** Whether something could not be read. */
  readonly incomplete: boolean;
}

/** Adds up the runners and pools that a person gave. Says on stderr what could not be read, and what is wrong with a pool. */
export async function addUpPool(asked: PoolRequest, io: Io): Promise<AddedUp | CliError> {
  const progress = slowProgress(io);
  try {
    const given = await readGiven(asked, io, progress.show);
    if (isCliError(given)) return given;
    const logs = await countLogs(given, asked, io, progress.show);
    progress.end();
    return sumUp(given, logs, asked.minRunners, io);
  } finally {
    progress.end();
  }
}

function sumUp(given: ReadGiven, logs: CountedLogs, minRunners: number, io: Io): AddedUp | CliError {
  const { project } = given.route;
  const nameOf = relativeNames(io.cwd);
  const usable = usablePools(given, io);
  const counted = countOnce(logs.parts, usable.parts);
  if ('shared' in counted) return mixedError(counted);
  const parts = [...counted.runners, ...counted.pools].map(({ techniques }) => techniques);
  const { techniques, otherRatings } = addByRating(parts, (id) => project.techniques.get(id)?.difficulty);
  const { rows, leftOut } = poolSum(project, techniques, otherRatings, minRunners);
  const ratings = new Map(rows.map(({ technique, pooled }) => [technique, pooled.difficulty]));
  const isTold = ({ techniques: said }: { readonly techniques: ReadonlyMap<string, PooledTechnique> }) =>
    [...said].some(([id, { difficulty }]) => ratings.get(id) === difficulty);
  // Who adds nothing to the file is not named in it either.
  const [runners, pools] = [counted.runners.filter(isTold), counted.pools.filter(isTold)];
  const unheard = [
    ...counted.runners
      .filter((one) => !isTold(one))
      .map(({ place }) => reasoned(place, nothingTold(minRunners))),
    ...counted.pools.filter((one) => !isTold(one)).map(({ place }) => reasoned(place, nothingOfPool)),
  ];
  const notCounted = [
    ...given.files.nameless.map((uri) => reasoned(nameOf(uri), nameless)),
    ...given.nobodys.map((uri) => reasoned(nameOf(uri), nobodysLog)),
    ...logs.notCounted,
    ...usable.notCounted,
    ...counted.uncounted.map((one) => reasoned(one.place, uncountedReason(one))),
    ...unheard,
  ].sort((a, b) => (a.source < b.source ? -1 : 1));
  if (given.files.cutShort) printNotice(io, cutShortNotice);
  for (const { uri, message } of given.files.unread) printNotice(io, `${nameOf(uri)}: ${message}`);
  return {
    route: given.route,
    // The latest of all: a runner whose logs are in it is then never taken out for less than is in it.
    day: latest([...(runners.length > 0 ? [logs.asOf] : []), ...pools.map(({ day }) => day)], logs.asOf),
    runners: [...runners.map(({ digest }) => digest), ...pools.flatMap((pool) => pool.runners)],
    lastDays: logs.lastDays,
    rows,
    leftOut: [...leftOut, ...usable.leftOut],
    notCounted,
    others: [...given.pools, ...given.nearPools].map((pool) => ({ shown: nameOf(pool.uri), pool })),
    unusable: usable.notCounted.length,
    incomplete: logs.incomplete || given.files.unread.length > 0 || given.files.cutShort,
  };
}

const reasoned = (source: string, reason: string): NotCounted => ({ source, reason });

function latest(days: readonly number[], otherwise: number): number {
  return days.length === 0 ? otherwise : days.reduce((a, b) => Math.max(a, b));
}

/** The pools that can be used; what is wrong with the others is said. */
function usablePools(
  { pools, route: { project } }: ReadGiven,
  io: Io,
): { parts: PoolPart[]; leftOut: LeftOut[]; notCounted: NotCounted[] } {
  const nameOf = relativeNames(io.cwd);
  const parts: PoolPart[] = [];
  const leftOut: LeftOut[] = [];
  const notCounted: NotCounted[] = [];
  for (const pool of pools) {
    const place = nameOf(pool.uri);
    const used = usePool(pool, project, place);
    if ('part' in used) {
      parts.push(used.part);
      for (const { id, runners } of used.unknown)
        leftOut.push({ technique: id, runners, why: 'unknown', reason: notInRoute(place) });
      continue;
    }
    notCounted.push(reasoned(place, unusablePool));
    for (const { file, range, severity, message } of used.faults.slice(0, mostFaults))
      printNotice(io, `${file}:${formatPosition(range.start)}  ${severity}  ${message}`);
    const more = used.faults.length - mostFaults;
    if (more > 0) printNotice(io, `And ${more} more in ${place}: routewright check shows them.`);
  }
  return { parts, leftOut, notCounted };
}

/** So many mistakes of one pool are shown. */
const mostFaults = 5;

function mixedError({ places: [a, b], shared }: MixedPools): CliError {
  const are = shared === 1 ? '1 runner is' : `${shared} runners are`;
  return cliError(
    `${are} in both ${a} and ${b}, and others in one of them only: what each added to the sums cannot be told apart. Make one pool from the logs: routewright pool FOLDER`,
  );
}
