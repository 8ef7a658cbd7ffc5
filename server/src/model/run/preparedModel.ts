/**
 * The computations that ranking, assessing, planning and reviewing share: analyse the logs, infer the runner, lay
 * out the route, choose the baseline.
 */
import { runnerPriorKey, leaveOneOutPrior, skillPrior } from '../skill/runnerPrior.ts';
import type { RunnerPrior } from '../skill/runnerPrior.ts';
import { resolveConstants } from '../core/constants.ts';
import type { Constants } from '../core/constants.ts';
import { chooseBaseline } from './baseline.ts';
import { buildTechniquePolicy } from './techniquePolicy.ts';
import { paysFromLogit } from '../skill/runnersWord.ts';
import { layOutRoute } from './routeLayout.ts';
import type { RouteLayout } from './routeLayout.ts';
import { expectationInRun, practiceLogits } from '../skill/rateEstimates.ts';
import { lossGrid } from '../skill/evidence.ts';
import type { Evidence, LossGrid } from '../skill/evidence.ts';
import { weighedFor } from '../skill/curveGrid.ts';
import type { CurveGrid } from '../skill/curveGrid.ts';
import type { PracticeHistory } from '../skill/practiceHistory.ts';
import { buildCurveGrids, analyzeLogsInSteps } from '../skill/logAnalysis.ts';
import type { LogAnalysis } from '../skill/logAnalysis.ts';
import { MemoCache } from '../../incremental/memoCache.ts';
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { ModelCache } from '../core/modelCache.ts';
import { compareCodeUnits, finiteOr } from '../core/numbers.ts';
import { skillPosterior } from '../skill/skillPosterior.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import { levelOnMorning } from '../skill/practiceState.ts';
import { coldStartInSteps, withColdStart } from '../skill/coldStart.ts';
import { learnScaleInSteps } from '../skill/difficultyScale.ts';
import { inferRunnerInSteps } from '../skill/runnerPosterior.ts';
import type { TechniqueObservation, RunnerPosterior } from '../skill/runnerPosterior.ts';
import { tabulate } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';
import type { Logs, RankOptions, RouteModel, TechniqueModel } from '../core/types.ts';
import { createTechniqueValuer } from './techniqueValuer.ts';
import type { TechniqueValuer } from './techniqueValuer.ts';
import { ratingKey, shapeKey } from '../core/rated.ts';

/** The input of a ranking. */
export interface RankInput {
  readonly route: RouteModel;
  readonly logs: Logs;
  /**
   * Day number of the morning that the results are for. Nights before it have passed; later log entries are
   * ignored.
   */
  readonly asOfDay: number;
  readonly options: RankOptions;
  /** Constants that replace the defaults. */
  readonly constants?: Partial<Constants>;
}

/** One technique with its practice history, its posterior and its level of practice. */
export interface FittedTechnique {
  readonly technique: TechniqueModel;
  /** Its entries up to `asOfDay`. */
  readonly log: Logs;
  readonly history: PracticeHistory;
  readonly evidence: Evidence | null;
  /** What the other techniques say about it: its prior, one row over the loss grid for each slot. */
  readonly prior: Float64Array;
  readonly posterior: SkillPosterior;
  /**
   * Where the runner says that it is in the run, and it was before the logs began: log odds of the rate from which
   * trying it pays.
   */
  readonly paysFrom: number | null;
  /** Level of practice, ln(1 + E/unit), on the morning of `asOfDay`. */
  readonly levelNow: number;
  /** Log odds in practice of every curve of the posterior at that level. */
  readonly logitsNow: Float64Array;
  /** Cache for values computed from this technique. */
  readonly memory: MemoCache;
}

export interface PreparedModel {
  readonly asOfDay: number;
  readonly constants: Constants;
  /** The same with the runner's own scale of difficulties, and the loss in runs that their blocks make likely. */
  readonly scaled: Constants;
  readonly grid: CurveGrid;
  readonly losses: LossGrid;
  readonly runner: RunnerPosterior;
  readonly layout: RouteLayout;
  /** By id, in order of id. */
  readonly fittedTechniques: ReadonlyMap<string, FittedTechnique>;
  /** The identity function of the landing rate as a table; used to compute mean landing rates. */
  readonly rates: RateTable;
  /** Mean landing rate in a run of each technique that is in the run, rounded to a 256th, in order of id. */
  readonly inRun: ReadonlyMap<string, number>;
  /** Cache for values computed from several techniques. */
  readonly shared: MemoCache;
  /** Gives the worth of each technique, as seconds by which it lowers V. */
  readonly valuer: TechniqueValuer;
}

/**
 * The mean rates in `inRun` are rounded to multiples of 1 / this number, an error of 0.002 at most. A new block
 * changes them by about a tenth of that, because it changes what is known about the runner; without rounding, the
 * worth of every technique of the route would have to be computed again.
 */
const rateSteps = 256;

/** What the analysis of the logs needs. Techniques are in order of id; only the first technique of each id is kept. */
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
 * Computes everything that ranking and assessing start from. Techniques are in order of id; only the first
 * technique of each id is kept. The caller can keep `cache` and pass it again in later calls for the same route.
 */
export const prepareModel = inOneGo(prepareModelInSteps);

/** The same in steps, the longest of them a technique's logs. */
export function* prepareModelInSteps(input: RankInput, cache = new ModelCache()): Steps<PreparedModel> {
  const { shared } = cache;
  const { techniques, constants, grids, losses, asOfDay } = resolveModelSetup(input, cache);
  const rates = shared.getOrCompute('rates', [constants], () =>
    tabulate((rate) => rate, constants.rateFloor),
  );
  cache.keepOnly(new Set(techniques.map(({ id }) => id)));

  const analyses = yield* analyzeLogsInSteps(
    techniques,
    input.logs,
    asOfDay,
    constants,
    grids,
    losses,
    cache,
  );
  const members = techniques.map(({ id, difficulty, others }, i) => {
    const { history, evidence } = analyses[i]!;
    const informs = !history.headStart || history.days.some((day) => !day.inRun);
    return { difficulty, others, evidence, informsRunner: informs, memory: cache.forTechnique(id) };
  });
  const rescaled = yield* learnScaleInSteps(members, grids.counted, losses, constants, shared);
  const moved = yield* coldStartInSteps(input.logs.practice, asOfDay, constants, shared);
  const scaled = withColdStart(rescaled, moved, shared);
  const whose = scaled === constants ? 'usual' : 'own';
  const runner = yield* inferRunnerInSteps(members, grids.counted, losses, scaled, shared, whose);
  const layout = shared.getOrCompute('layout', [JSON.stringify(routeOf(input.route))], () =>
    layOutRoute(input.route),
  );
  const words = yield* mapInSteps(techniques, (technique, i) =>
    analyses[i]!.history.headStart ? wordOf(technique, techniques, layout, constants, cache) : null,
  );
  const posteriors = yield* posteriorsOf(members, analyses, words, runner, losses, scaled, shared);

  const fittedTechniques = new Map<string, FittedTechnique>();
  for (const [i, technique] of techniques.entries()) {
    const { log, history, evidence } = analyses[i]!;
    const { prior, posterior } = posteriors[i]!;
    const now = cache.forTechnique(technique.id).getOrCompute('now', [history, posterior, asOfDay], () => {
      const levelNow = levelOnMorning(history.state, asOfDay, constants);
      return { levelNow, logitsNow: practiceLogits(posterior, levelNow) };
    });
    fittedTechniques.set(technique.id, {
      technique,
      log,
      history,
      evidence,
      prior,
      posterior,
      paysFrom: words[i]!,
      ...now,
      memory: cache.forTechnique(technique.id),
    });
    yield;
  }

  const inRun = new Map<string, number>();
  for (const [id, { technique, posterior, logitsNow }] of fittedTechniques) {
    if (technique.state !== 'in-run') continue;
    const mean = cache
      .forTechnique(id)
      .getOrCompute('mean rate in a run', [posterior, logitsNow, rates], () =>
        expectationInRun(posterior, logitsNow, rates),
      );
    inRun.set(id, Math.round(mean * rateSteps) / rateSteps);
    yield;
  }
  const valuer = createTechniqueValuer(layout, inRun, constants, cache);
  return {
    asOfDay,
    constants,
    scaled,
    grid: grids.counted,
    losses,
    runner,
    layout,
    fittedTechniques,
    rates,
    inRun,
    shared,
    valuer,
  };
}

/** What the other techniques say of the runner, for the technique with a number in order of id. */
export function runnerPriorOf({ runner, scaled }: PreparedModel, number: number): RunnerPrior {
  return leaveOneOutPrior(runner, runner.runnerLikelihoods[number] ?? null, scaled);
}

/** The parts of the route that its layout depends on: everything except the techniques' own numbers. */
function routeOf({ segments, restart }: RouteModel): Omit<RouteModel, 'techniques'> {
  return { segments, restart };
}

/**
 * What the runner's word that a technique is in the run says: log odds of the rate from which trying it pays in the
 * run without other techniques; null where it is not the runner's word. Items that it needs are picked up by other
 * techniques in the run.
 */
function wordOf(
  { id, state, stateWritten }: TechniqueModel,
  techniques: readonly TechniqueModel[],
  layout: RouteLayout,
  constants: Constants,
  cache: ModelCache,
): number | null {
  if (state !== 'in-run' || stateWritten !== true) return null;
  const others = techniques.filter((other) => other.state === 'in-run' && other.id !== id);
  const allowed = new Set(others.map((other) => other.id));
  const on = [layout, constants, JSON.stringify([...allowed])];
  return cache.forTechnique(id).getOrCompute('pays from', on, () => {
    const base = cache.shared.getOrCompute('run without techniques', [layout, constants], () =>
      chooseBaseline(
        layout,
        () => false,
        () => 0,
        constants,
      ),
    );
    const policy = buildTechniquePolicy(
      layout,
      id,
      base,
      (other) => allowed.has(other),
      () => 1,
      constants,
    );
    return paysFromLogit(policy.breakEven);
  });
}

/** The prior and the posterior of every technique, in the order of `members`. */
function* posteriorsOf(
  members: readonly (TechniqueObservation & { readonly memory: MemoCache })[],
  analyses: readonly LogAnalysis[],
  words: readonly (number | null)[],
  runner: RunnerPosterior,
  losses: LossGrid,
  constants: Constants,
  shared: MemoCache,
): Steps<{ readonly prior: Float64Array; readonly posterior: SkillPosterior }[]> {
  const priors = shared.getOrCompute('priors', [constants], () => new Map<string, Float64Array>());
  // Techniques without counts differ only in their prior, so those with the same prior share one posterior.
  const uncounted = shared.getOrCompute('uncounted', [constants], () => new MemoCache());
  const grids = shared.getOrCompute('weighed grids', [constants], () => new MemoCache());
  const kindsWanted = new Set<string>();
  const wanted = new Set<string>();
  const names = new Set<string>();
  const posteriors = yield* mapInSteps(members, (member, i) => {
    const { memory } = member;
    const { evidence, grid } = analyses[i]!;
    const runnerPrior = leaveOneOutPrior(runner, runner.runnerLikelihoods[i] ?? null, constants);
    const key = `${ratingKey(member)} ${runnerPriorKey(runnerPrior)}`;
    const word = words[i]!;
    const shape = member.others === undefined ? '' : shapeKey(member.others.shape);
    const learners = `${grid.kind} ${runnerPrior.learners.join(' ')} ${shape}`;
    const ownGrid = grids.getOrCompute(learners, [grid], () => weighedFor(grid, runnerPrior.learners));
    kindsWanted.add(learners);
    const uncountedName = `posterior ${key} ${word} ${learners}`;
    wanted.add(key);
    names.add(uncountedName);
    const prior = priors.get(key) ?? skillPrior(member, runnerPrior, grid, losses, constants);
    priors.set(key, prior);
    const alike = evidence === null ? uncounted : memory;
    const name = evidence === null ? uncountedName : 'posterior';
    const posterior = alike.getOrCompute(name, [evidence, prior, word, ownGrid], () =>
      skillPosterior(evidence, prior, ownGrid, losses, word),
    );
    return { prior, posterior };
  });
  for (const key of [...priors.keys()]) if (!wanted.has(key)) priors.delete(key);
  uncounted.keepOnly(names);
  grids.keepOnly(kindsWanted);
  return posteriors;
}
