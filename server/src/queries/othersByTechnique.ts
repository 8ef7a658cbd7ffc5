/** What other runners' practice says of each technique of a project to one runner. */
import type { MemoCache } from '../incremental/memoCache.ts';
import type { Steps } from '../incremental/steps.ts';
import { resolveConstants } from '../model/core/constants.ts';
import type { Constants } from '../model/core/constants.ts';
import type { OthersWord } from '../model/core/rated.ts';
import type { Logs } from '../model/core/types.ts';
import { combine } from '../model/pool/addUp.ts';
import { othersWords } from '../model/pool/othersWord.ts';
import type { PooledTechnique } from '../model/pool/pooledTechnique.ts';
import { fileName } from '../workspace/fileName.ts';
import type { PoolFile, Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { contributionsInSteps } from './poolContribution.ts';
import { runnerDigest } from './poolDigest.ts';
import { poolInUse, ratedInPool } from './poolInUse.ts';

/**
 * What the pool of a project says of each technique, by id. What the runner's own logs are in it is taken out, so that nothing of
 * one's own counts twice.
 *
 * @param logs the runner's own, of any day
 * @param memory keeps the own part of the pool
 */
export function* othersByTechniqueInSteps(
  project: Project,
  own: RunnerFiles,
  logs: Logs,
  changed: Partial<Constants>,
  memory: MemoCache,
): Steps<ReadonlyMap<string, OthersWord>> {
  const pool = own.week?.document.model.pool === 'off' ? undefined : poolInUse(project);
  if (pool === undefined) return nobody;
  const mine = yield* ownPartInSteps(project, own, pool, logs, memory);
  const rated = ratedInPool(project, pool);
  const on = [
    pool.document,
    mine,
    JSON.stringify([changed, rated.map(({ id, difficulty }) => [id, difficulty])]),
  ];
  return memory.getOrCompute('words of others', on, () => {
    const told = rated.flatMap((one) => {
      const part = mine.get(one.id);
      const pooled = part === undefined ? one.pooled : combine(one.pooled, part, -1);
      return pooled.runners > 0 ? [{ ...one, pooled }] : [];
    });
    const words = othersWords(told, resolveConstants(changed));
    return new Map(told.map(({ id }, i) => [id, words[i]!]));
  });
}

const none: ReadonlyMap<string, PooledTechnique> = new Map();
const nobody: ReadonlyMap<string, OthersWord> = new Map();

/** What the runner's own logs added to the pool when it was made; nothing where they are not in it. */
function* ownPartInSteps(
  project: Project,
  own: RunnerFiles,
  { document: { runners, day, route = '' } }: PoolFile,
  { practice, runs }: Logs,
  memory: MemoCache,
): Steps<ReadonlyMap<string, PooledTechnique>> {
  const digest = runnerDigest(fileName(route), practice);
  if (digest === undefined || day === undefined || !runners.includes(digest)) return none;
  const upToThen = <E extends { readonly day: number }>(entries: readonly E[]): readonly E[] =>
    entries.filter((entry) => entry.day <= day.date);
  const logs: Logs = { practice: upToThen(practice), runs: upToThen(runs) };
  const on = [project.route.document, JSON.stringify([day.date, logs])];
  return yield* memory.getOrComputeInSteps('own part of the pool', on, () =>
    contributionsInSteps(project, own, logs, day.date),
  );
}
