/** What one runner's logs add to a pool. */
import { runToCompletion } from '../incremental/steps.ts';
import type { Steps } from '../incremental/steps.ts';
import { ModelCache } from '../model/core/modelCache.ts';
import type { Logs } from '../model/core/types.ts';
import { contributionsOf } from '../model/pool/contribution.ts';
import type { PooledTechnique } from '../model/pool/pooledTechnique.ts';
import { prepareModelInSteps } from '../model/run/preparedModel.ts';
import { fileName } from '../workspace/fileName.ts';
import type { Project } from '../workspace/project.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';
import { dayStartsOf } from './dayStarts.ts';
import { buildModelLogs } from './modelLogs.ts';
import { runnerDigest } from './poolDigest.ts';
import { buildRouteModel } from './routeModel.ts';
import { techniqueStatesOf } from './techniqueStates.ts';

/** One runner's part of a pool. */
export interface PoolContribution {
  readonly digest: string;
  /** By the technique's id of today; each as a pool of this one runner. */
  readonly techniques: ReadonlyMap<string, PooledTechnique>;
}

/**
 * What a runner's logs up to a day add to a pool of the route: worked out with the usual constants and without any pool, so
 * that everybody is counted alike.
 *
 * @param cache keeps what is the same for every runner, for those who are counted one after the other
 * @returns undefined where the runner logged too little
 */
export function poolContribution(
  project: Project,
  own: RunnerFiles,
  asOf: number,
  cache?: ModelCache,
): PoolContribution | undefined {
  return runToCompletion(poolContributionInSteps(project, own, asOf, cache));
}

/** The same in steps. */
export function* poolContributionInSteps(
  project: Project,
  own: RunnerFiles,
  asOf: number,
  cache?: ModelCache,
): Steps<PoolContribution | undefined> {
  const logs = buildModelLogs(project, own, dayStartsOf(own), asOf);
  const digest = runnerDigest(fileName(project.route.uri), logs.practice);
  return digest === undefined
    ? undefined
    : { digest, techniques: yield* contributionsInSteps(project, own, logs, asOf, cache) };
}

/**
 * What the logs say of every technique. The rest of the route, and techniques of which nothing is logged, do not matter to
 * that and are left out.
 */
export function* contributionsInSteps(
  project: Project,
  own: RunnerFiles,
  logs: Logs,
  asOf: number,
  cache = new ModelCache(),
): Steps<ReadonlyMap<string, PooledTechnique>> {
  const states = techniqueStatesOf(project, own, dayStartsOf(own), asOf);
  const { techniques } = buildRouteModel(project, undefined, states);
  const logged = new Set([...logs.practice, ...logs.runs].map(({ technique }) => technique));
  const input = {
    route: { segments: [], techniques: techniques.filter(({ id }) => logged.has(id)), restart: 0 },
    logs,
    // The morning after, so that the last day's night has passed for everybody.
    asOfDay: asOf + 1,
    options: { blockMinutes: 25, confidence: 0.8, all: true },
  };
  const prepared = yield* prepareModelInSteps(input, cache);
  return contributionsOf(prepared);
}
