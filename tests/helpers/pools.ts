/** Pools of invented runners, without files: what each runner adds, and the text of a pool of some of them. */
import { fileName } from '../../server/src/workspace/fileName.ts';
import { RunnerCounter } from '../../server/src/cli/pool/runnerCounter.ts';
import { poolFromText, usePool } from '../../server/src/cli/pool/givenPools.ts';
import { addByRating } from '../../server/src/model/pool/addByRating.ts';
import type { PoolPart } from '../../server/src/model/pool/countOnce.ts';
import type { PoolContribution } from '../../server/src/queries/poolContribution.ts';
import { poolFileText } from '../../server/src/reports/pool/poolFileText.ts';
import { poolSum } from '../../server/src/reports/pool/poolReport.ts';
import { parseMoment } from '../../server/src/text/calendar.ts';
import { memoryFileSource } from '../../server/src/workspace/fileSource.ts';
import type { Project } from '../../server/src/workspace/project.ts';
import { Workspace } from '../../server/src/workspace/workspace.ts';
import { poolRouteName, poolRouteText } from './poolRunners.ts';

const folder = 'file:///w';
export const poolRouteUri = `${folder}/${poolRouteName}`;
/** The day of every such pool. */
export const poolDay = parseMoment('2026-11-30')!.date;

/** The route as a project without logs. */
export function poolProject(text = poolRouteText): Project {
  const workspace = new Workspace(memoryFileSource({}));
  workspace.edit(poolRouteUri, text);
  return workspace.groups().projects[0]!;
}

/** What each practice log adds. Each must be long enough. */
export async function contributionsOfTexts(logs: readonly string[]): Promise<PoolContribution[]> {
  const uris = logs.map((_, i) => `${folder}/runners/r${i}/lanternfall.practice.yaml`);
  const source = memoryFileSource(Object.fromEntries(uris.map((uri, i) => [uri, logs[i]!])));
  const tasks = uris.map((uri) => ({ runner: undefined, files: [{ uri, kind: 'practice' as const }] }));
  const route = { route: poolRouteUri, texts: { [poolRouteUri]: poolRouteText }, within: [], asOf: poolDay };
  const counts = await new RunnerCounter(source).count(tasks, route);
  return counts.map(({ contribution }) => contribution!);
}

/** The text of a pool of parts, as `routewright pool` writes it. */
export function poolTextOf(
  parts: readonly Pick<PoolPart, 'runners' | 'techniques'>[],
  project = poolProject(),
): string {
  const { techniques, otherRatings } = addByRating(
    parts.map((part) => part.techniques),
    (id) => project.techniques.get(id)?.difficulty,
  );
  const { rows } = poolSum(project, techniques, otherRatings, 3);
  return poolFileText({
    route: fileName(project.route.uri),
    day: poolDay,
    runners: parts.flatMap(({ runners }) => runners),
    rows,
  });
}

/** Runners as parts of a pool. */
export function asParts(
  contributions: readonly PoolContribution[],
): Pick<PoolPart, 'runners' | 'techniques'>[] {
  return contributions.map(({ digest, techniques }) => ({ runners: [digest], techniques }));
}

/** A pool's text as a part of another one. */
export function partOfText(text: string, place = 'a.pool.yaml', project = poolProject()): PoolPart {
  const used = usePool(poolFromText(`${folder}/${place}`, text), project, place);
  if (!('part' in used)) throw new Error(used.faults.map(({ message }) => message).join('\n'));
  return used.part;
}
