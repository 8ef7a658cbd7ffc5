/** What ranking and assessing share: logs read, the runner inferred, the route laid out, the baseline chosen. */
import { runnerPriorKey, leaveOneOutPrior, skillPrior } from '../skill/runnerPrior.ts';
import { resolveConstants } from '../core/constants.ts';
import type { Constants } from '../core/constants.ts';
import { layOutRoute } from './routeLayout.ts';
import type { RouteLayout } from './routeLayout.ts';
import { expectationInRun, practiceLogits } from '../skill/rateEstimates.ts';
import { lossGrid } from '../skill/evidence.ts';
import type { Evidence, LossGrid } from '../skill/evidence.ts';
import type { CurveGrid } from '../skill/curveGrid.ts';
import type { PracticeHistory } from '../skill/practiceHistory.ts';
import { buildCurveGrids, analyzeLogs } from '../skill/logAnalysis.ts';
import type { LogAnalysis } from '../skill/logAnalysis.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { ModelCache } from '../core/modelCache.ts';
import { compareCodeUnits, finiteOr } from '../core/numbers.ts';
import { skillPosterior } from '../skill/skillPosterior.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import { practiceLevel, stateOnMorning } from '../skill/practiceState.ts';
import { inferRunner } from '../skill/runnerPosterior.ts';
import type { TechniqueObservation, RunnerPosterior } from '../skill/runnerPosterior.ts';
import { tabulate } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';
import type { Logs, RankOptions, RouteModel, TechniqueModel } from '../core/types.ts';
import { createTechniqueValuer } from './techniqueValuer.ts';
import type { TechniqueValuer } from './techniqueValuer.ts';

/** Everything a ranking is made from. */
export interface RankInput {
  readonly route: RouteModel;
  readonly logs: Logs;
  /** Day number of the morning that the answer is for: nights strictly before it have passed. Later entries do not count. */
  readonly asOfDay: number;
  readonly options: RankOptions;
  /** Constants to use in place of the defaults. */
  readonly constants?: Partial<Constants>;
}

/** One technique with all that is known about it. */
export interface FittedTechnique {
  readonly technique: TechniqueModel;
  readonly history: PracticeHistory;
  readonly evidence: Evidence | null;
  readonly posterior: SkillPosterior;
  /** ln(1 + E/unit) on the morning asked about. */
  readonly levelNow: number;
  /** Log odds in practice of every curve of the posterior at that level. */
  readonly logitsNow: Float64Array;
  /** Keeps what is worked out of it. */
  readonly memory: MemoCache;
}

export interface PreparedModel {
  readonly constants: Constants;
  readonly grid: CurveGrid;
  readonly losses: LossGrid;
  readonly runner: RunnerPosterior;
  readonly layout: RouteLayout;
  /** By id, in order of id. */
  readonly fittedTechniques: ReadonlyMap<string, FittedTechnique>;
  /** The landing rate itself as a table, for expectations of it. */
  readonly rates: RateTable;
  /** Mean landing rate in a run of each technique that is in the run, to a 256th, in order of id. */
  readonly inRun: ReadonlyMap<string, number>;
  /** Keeps what is worked out of all techniques together. */
  readonly shared: MemoCache;
  /** The value of techniques, in seconds off V. */
  readonly valuer: TechniqueValuer;
}

/**
 * Rates in the run as it is are rounded to one part in so many, 0.002 at most: what a block says of the runner moves
 * each of them by a tenth of that, and would otherwise change the worth of every technique of the route.
 */
const rateSteps = 256;

/** Techniques whose logs are read at once; some 50 ms where many are logged for years. */
const atOnce = 8;

/**
 * Reads the logs for {@link prepareModel}, which is the longest part of it, in steps: in between, whoever asks may do
 * something else first, or leave it. What was read is kept in `cache`.
 */
export function* prepareModelInSteps(input: RankInput, cache: ModelCache): Generator<void> {
  const { techniques, constants, grids, losses, asOfDay } = resolveModelSetup(input, cache);
  for (let from = 0; from < techniques.length; from += atOnce) {
    const some = techniques.slice(from, from + atOnce);
    analyzeLogs(some, input.logs, asOfDay, constants, grids, losses, cache);
    yield;
  }
}

/** What reading the logs takes. Techniques are in order of id, a second of one id left out. */
function resolveModelSetup(input: RankInput, { shared }: ModelCache) {
  const resolved = resolveConstants(input.constants);
  const constants = shared.getOrCompute('constants', [JSON.stringify(resolved)], () => resolved);
  const grids = shared.getOrCompute('grids', [constants], () => buildCurveGrids(constants));
  const losses = shared.getOrCompute('losses', [constants], () => lossGrid(constants));
  const byId = new Map<string, TechniqueModel>();
  for (const t of input.route.techniques) if (!byId.has(t.id)) byId.set(t.id, t);
  const techniques = [...byId.values()].sort((a, b) => compareCodeUnits(a.id, b.id));
  return { techniques, constants, grids, losses, asOfDay: finiteOr(input.asOfDay, 0) };
}

/**
 * Works out all that ranking and assessing start from. Techniques are taken in order of id; a second of one id is
 * left out. `cache`, where given, is kept by the caller from one answer about a route to the next.
 */
export function prepareModel(input: RankInput, cache = new ModelCache()): PreparedModel {
  const { shared } = cache;
  const { techniques, constants, grids, losses, asOfDay } = resolveModelSetup(input, cache);
  const rates = shared.getOrCompute('rates', [constants], () =>
    tabulate((rate) => rate, constants.rateFloor),
  );
  cache.keepOnly(new Set(techniques.map(({ id }) => id)));

  const readings = analyzeLogs(techniques, input.logs, asOfDay, constants, grids, losses, cache);
  const members = techniques.map(({ id, difficulty }, i) => {
    const { history, evidence } = readings[i]!;
    const informs = !history.headStart || history.days.some((day) => !day.inRun);
    return { difficulty, evidence, informsRunner: informs, memory: cache.forTechnique(id) };
  });
  const runner = inferRunner(members, grids.fresh, losses, constants, shared);
  const posteriors = posteriorsOf(members, readings, runner, losses, constants, shared);

  const subjects = new Map<string, FittedTechnique>();
  techniques.forEach((technique, i) => {
    const { history, evidence } = readings[i]!;
    const posterior = posteriors[i]!;
    const now = cache.forTechnique(technique.id).getOrCompute('now', [history, posterior, asOfDay], () => {
      const levelNow = practiceLevel(stateOnMorning(history.state, asOfDay, constants).effective, constants);
      return { levelNow, logitsNow: practiceLogits(posterior, levelNow) };
    });
    subjects.set(technique.id, {
      technique,
      history,
      evidence,
      posterior,
      ...now,
      memory: cache.forTechnique(technique.id),
    });
  });

  const layout = shared.getOrCompute('layout', [JSON.stringify(routeOf(input.route))], () =>
    layOutRoute(input.route),
  );
  const inRun = new Map<string, number>();
  for (const [id, { technique, posterior, logitsNow }] of subjects) {
    if (technique.state !== 'in-run') continue;
    const mean = cache
      .forTechnique(id)
      .getOrCompute('mean rate in a run', [posterior, logitsNow, rates], () =>
        expectationInRun(posterior, logitsNow, rates),
      );
    inRun.set(id, Math.round(mean * rateSteps) / rateSteps);
  }
  const valuer = createTechniqueValuer(layout, inRun, constants, cache);
  return {
    constants,
    grid: grids.fresh,
    losses,
    runner,
    layout,
    fittedTechniques: subjects,
    rates,
    inRun,
    shared,
    valuer,
  };
}

/** What the layout is laid out from: techniques' own numbers have no part in it. */
function routeOf({ segments, restart }: RouteModel): Omit<RouteModel, 'techniques'> {
  return { segments, restart };
}

/** Every technique's posterior, in the order of the members. */
function posteriorsOf(
  members: readonly (TechniqueObservation & { readonly memory: MemoCache })[],
  readings: readonly LogAnalysis[],
  runner: RunnerPosterior,
  losses: LossGrid,
  constants: Constants,
  shared: MemoCache,
): SkillPosterior[] {
  const priors = shared.getOrCompute('priors', [constants], () => new Map<string, Float64Array>());
  // Nothing but the prior tells techniques apart that were never counted: they share one posterior.
  const uncounted = shared.getOrCompute('uncounted', [constants], () => new MemoCache());
  const wanted = new Set<string>();
  const posteriors = members.map(({ difficulty, memory }, i) => {
    const { evidence, grid, history } = readings[i]!;
    const belief = leaveOneOutPrior(runner, runner.runnerLikelihoods[i] ?? null, constants);
    const key = `${difficulty} ${runnerPriorKey(belief)}`;
    wanted.add(key);
    const prior = priors.get(key) ?? skillPrior(difficulty, belief, grid, losses, constants);
    priors.set(key, prior);
    const alike = evidence === null ? uncounted : memory;
    const name = evidence === null ? `posterior ${key} ${history.headStart}` : 'posterior';
    return alike.getOrCompute(name, [evidence, prior], () => skillPosterior(evidence, prior, grid, losses));
  });
  for (const key of [...priors.keys()]) if (!wanted.has(key)) priors.delete(key);
  uncounted.keepOnly(
    new Set([...wanted].flatMap((key) => [`posterior ${key} true`, `posterior ${key} false`])),
  );
  return posteriors;
}
