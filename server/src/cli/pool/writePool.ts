import { writeFile } from 'node:fs/promises';
import { codeOf } from '../../disk/errorCode.ts';
import { readGuarded } from '../../disk/guardedRead.ts';
import { replaceText } from '../../disk/replaceText.ts';
import { systemReason } from '../../disk/systemReason.ts';
import { isUnread, unreadReason } from '../../files/reading/unread.ts';
import { leastRunners } from '../../model/pool/addUp.ts';
import { type NewPool, runnersBetween } from '../../model/pool/betweenVersions.ts';
import { poolVersion } from '../../model/pool/poolVersion.ts';
import { poolFileText, type PoolFileContent } from '../../reports/pool/poolFileText.ts';
import { formatCount } from '../../text/format.ts';
import { fileName } from '../../workspace/fileName.ts';
import { relativePath } from '../../workspace/relativePath.ts';
import { cliError, type CliError } from '../terminal/cliError.ts';
import { uriOf } from '../terminal/paths.ts';
import { type ReadPool, poolFromText } from './givenPools.ts';

/** A pool to be written into a file. */
export interface PoolToWrite extends NewPool {
  /** Absolute path of the file. */
  readonly path: string;
  /** The same for people. */
  readonly shown: string;
  /** URI of the route. */
  readonly route: string;
  readonly content: Omit<PoolFileContent, 'route'>;
  /** Other pools of the route that are here, each by its name for people: earlier versions perhaps. */
  readonly others: readonly { readonly shown: string; readonly pool: ReadPool }[];
  /** Whether it is written although its difference to an earlier version tells of one runner or two. */
  readonly anyway: boolean;
}

/** What came of it. */
export interface WrittenPool {
  /** Whole sentences for the person. */
  readonly notices: readonly string[];
}

/**
 * Writes a pool into its file, as a new one or in the place of an earlier version of it; any other file is left as it is. Where the
 * difference to an earlier version would be the numbers of one runner or two, it is not written.
 */
export async function writePool(asked: PoolToWrite): Promise<WrittenPool | CliError> {
  const { path, shown, route, content, anyway } = asked;
  const text = poolFileText({ ...content, route: routeLine(uriOf(path), route) });
  try {
    const before = await readGuarded(path);
    if (isUnread(before)) return cliError(`${shown} is left as it is: ${unreadReason(before)}.`);
    if (before === text) return { notices: [`${shown} says this already: it is left as it is.`] };
    const standing = before === undefined ? undefined : poolFromText(uriOf(path), before);
    const problem = standing && otherFile(standing, fileName(route), shown);
    if (problem !== undefined) return problem;
    const told = toldOfFew(asked, standing);
    if (told !== undefined && !anyway) return cliError(`${told} ${wayOut}`);
    const warnings = told === undefined ? [] : [`${told} It is written all the same, as --anyway says.`];
    if (before === undefined) {
      // `wx`: does not overwrite a file that was created in the meantime.
      await writeFile(path, text, { encoding: 'utf8', flag: 'wx' });
      return { notices: [...warnings, writtenSentence(asked)] };
    }
    const { replaced, notices } = await replaceText(path, Buffer.from(before, 'utf8'), text);
    if (!replaced) return changedMeanwhile(shown);
    return { notices: [...notices, ...warnings, writtenSentence(asked), ...lostSentence(asked, standing!)] };
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return changedMeanwhile(shown);
    return cliError(`${shown} cannot be written: ${systemReason(error)}.`);
  }
}

const wayOut = `Wait until at least ${leastRunners} runners have joined, left or practised since. --anyway writes it all the same.`;

/**
 * The route as the file names it. A name of a folder might be somebody's: where the route does not lie in the same folder or above it, only
 * the route's own name is written.
 */
function routeLine(file: string, route: string): string {
  const way = relativePath(file, route);
  const name = fileName(route);
  return way.replaceAll('../', '') === name ? way : name;
}

/** An error where a file stands there that is no earlier version of this pool. */
function otherFile(standing: ReadPool, route: string, shown: string): CliError | undefined {
  if (standing.reading.problems.length > 0)
    return cliError(
      `${shown} is left as it is: there are mistakes in it, and what it holds is not known. Remove it, or choose another name with --output.`,
    );
  if (standing.routeName === route) return undefined;
  return cliError(
    `${shown} is left as it is: it is the pool of another route, ${standing.routeName ?? 'of none'}.`,
  );
}

/** A sentence where the difference to an earlier version is the numbers of one runner or two. */
function toldOfFew(asked: PoolToWrite, standing: ReadPool | undefined): string | undefined {
  const { path, shown, others } = asked;
  const earlier = [
    ...(standing === undefined ? [] : [{ shown: 'the file as it is now', pool: standing }]),
    ...others.filter(({ pool }) => pool.uri !== uriOf(path)),
  ];
  for (const { shown: other, pool } of earlier) {
    const { model, day, runners } = pool.document;
    // Numbers of other curves cannot be subtracted.
    if (model !== poolVersion || day === undefined) continue;
    const between = runnersBetween({ runners, day: day.date }, asked);
    if (between === 0 || between >= leastRunners) continue;
    const [make, whose] =
      between === 1 ? ['makes', "that runner's numbers"] : ['make', 'the sum of their numbers'];
    return `${formatCount(between, 'runner')} ${make} the whole difference between ${shown} and ${other}: whoever has both can work out ${whose}.`;
  }
  return undefined;
}

function writtenSentence({ shown, content: { runners, rows } }: PoolToWrite): string {
  return `${shown} written: ${formatCount(runners.length, 'runner')}, ${formatCount(rows.length, 'technique')}.`;
}

/** Says that runners are gone who were in the file before: perhaps their logs were not given. */
function lostSentence({ content: { runners } }: PoolToWrite, { document }: ReadPool): string[] {
  const now = new Set(runners);
  const lost = document.runners.filter((digest) => !now.has(digest)).length;
  if (lost === 0) return [];
  const are = lost === 1 ? 'is' : 'are';
  return [
    `${formatCount(lost, 'runner')} of the file as it was ${are} not in it any more. To keep them, give that file beside the folders, as it was.`,
  ];
}

function changedMeanwhile(shown: string): CliError {
  return cliError(`${shown} is left as it is: something else changed it meanwhile. Run the command again.`);
}
