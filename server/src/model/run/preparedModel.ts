/** What ranking and assessing share: logs read, the runner inferred, the route laid out, the baseline chosen. */
import { beliefKey, beliefWithout, skillPrior } from '../skill/runnerPrior.ts';
import { resolveConstants } from '../core/constants.ts';
import type { Constants } from '../core/constants.ts';
import { layOut } from './routeLayout.ts';
import type { Course } from './routeLayout.ts';
import { expectInRun, practiceLogits } from '../skill/rateEstimates.ts';
import { lossGrid } from '../skill/evidence.ts';
import type { Evidence, LossGrid } from '../skill/evidence.ts';
import type { CurveGrid } from '../skill/curveGrid.ts';
import type { History } from '../skill/practiceHistory.ts';
import { gridsOf, readLogs } from '../skill/logAnalysis.ts';
import type { LogReading } from '../skill/logAnalysis.ts';
import { Memory, RankCache } from '../../incremental/memoCache.ts';
import { byText, finiteOr } from '../core/numbers.ts';
import { skillPosterior } from '../skill/skillPosterior.ts';
import type { SkillPosterior } from '../skill/skillPosterior.ts';
import { level, morningOf } from '../skill/practiceState.ts';
import { inferRunner } from '../skill/runnerPosterior.ts';
import type { Member, RunnerPosterior } from '../skill/runnerPosterior.ts';
import { tabulate } from '../core/rateTable.ts';
import type { RateTable } from '../core/rateTable.ts';
import type { Logs, RankOptions, RouteModel, TechniqueModel } from '../core/types.ts';
import { valuerOf } from './techniqueValuer.ts';
import type { Valuer } from './techniqueValuer.ts';

/** Everything a ranking is made from. */
export interface RankInput {
  readonly route: RouteModel;
  readonly logs: Logs;
  /** The morning on which the question is asked: nights strictly before it have passed. Later entries do not count. */
  readonly asOfDay: number;
  readonly options: RankOptions;
  /** Constants to use in place of the defaults. */
  readonly constants?: Partial<Constants>;
}

/** One technique with all that is known about it. */
export interface Subject {
  readonly technique: TechniqueModel;
  readonly history: History;
  readonly evidence: Evidence | null;
  readonly posterior: SkillPosterior;
  /** ln(1 + E/unit) on the morning asked about. */
  readonly levelNow: number;
  /** Log odds in practice of every curve of the posterior at that level. */
  readonly logitsNow: Float64Array;
  /** Keeps what is worked out of it. */
  readonly memory: Memory;
}

export interface Prepared {
  readonly constants: Constants;
  readonly grid: CurveGrid;
  readonly losses: LossGrid;
  readonly runner: RunnerPosterior;
  readonly course: Course;
  /** By id, in order of id. */
  readonly subjects: ReadonlyMap<string, Subject>;
  /** The landing rate itself as a table, for expectations of it. */
  readonly rates: RateTable;
  /** Mean landing rate in a run of each technique that is in the run, to a 256th, in order of id. */
  readonly inRun: ReadonlyMap<string, number>;
  /** Keeps what is worked out of all techniques together. */
  readonly shared: Memory;
  /** The value of techniques, in seconds off V. */
  readonly valuer: Valuer;
}

/**
 * Rates in the run as it is are rounded to one part in so many, 0.002 at most: what a block says of the runner moves
 * each of them by a tenth of that, and would otherwise change the worth of every technique of the route.
 */
const rateSteps = 256;

/** Techniques whose logs are read at once; some 50 ms where many are logged for years. */
const atOnce = 8;

/**
 * Reads the logs for {@link prepare}, which is the longest part of it, in steps: in between, whoever asks may do
 * something else first, or leave it. What was read is kept in `cache`.
 */
export function* prepareInSteps(input: RankInput, cache: RankCache): Generator<void> {
  const { techniques, constants, grids, losses, asOfDay } = begin(input, cache);
  for (let from = 0; from < techniques.length; from += atOnce) {
    const some = techniques.slice(from, from + atOnce);
    readLogs(some, input.logs, asOfDay, constants, grids, losses, cache);
    yield;
  }
}

/** What reading the logs takes. Techniques are in order of id, a second of one id left out. */
function begin(input: RankInput, { shared }: RankCache) {
  const resolved = resolveConstants(input.constants);
  const constants = shared.recall('constants', [JSON.stringify(resolved)], () => resolved);
  const grids = shared.recall('grids', [constants], () => gridsOf(constants));
  const losses = shared.recall('losses', [constants], () => lossGrid(constants));
  const byId = new Map<string, TechniqueModel>();
  for (const t of input.route.techniques) if (!byId.has(t.id)) byId.set(t.id, t);
  const techniques = [...byId.values()].sort((a, b) => byText(a.id, b.id));
  return { techniques, constants, grids, losses, asOfDay: finiteOr(input.asOfDay, 0) };
}

/**
 * Works out all that ranking and assessing start from. Techniques are taken in order of id; a second of one id is
 * left out. `cache`, where given, is kept by the caller from one question about a route to the next.
 */
export function prepare(input: RankInput, cache = new RankCache()): Prepared {
  const { shared } = cache;
  const { techniques, constants, grids, losses, asOfDay } = begin(input, cache);
  const rates = shared.recall('rates', [constants], () => tabulate((rate) => rate, constants.rateFloor));
  cache.keepOnly(new Set(techniques.map(({ id }) => id)));

  const readings = readLogs(techniques, input.logs, asOfDay, constants, grids, losses, cache);
  const members = techniques.map(({ id, difficulty }, i) => {
    const { history, evidence } = readings[i]!;
    const informs = !history.headStart || history.days.some((day) => !day.inRun);
    return { difficulty, evidence, informs, memory: cache.of(id) };
  });
  const runner = inferRunner(members, grids.fresh, losses, constants, shared);
  const posteriors = posteriorsOf(members, readings, runner, losses, constants, shared);

  const subjects = new Map<string, Subject>();
  techniques.forEach((technique, i) => {
    const { history, evidence } = readings[i]!;
    const posterior = posteriors[i]!;
    const now = cache.of(technique.id).recall('now', [history, posterior, asOfDay], () => {
      const levelNow = level(morningOf(history.state, asOfDay, constants).effective, constants);
      return { levelNow, logitsNow: practiceLogits(posterior, levelNow) };
    });
    subjects.set(technique.id, {
      technique,
      history,
      evidence,
      posterior,
      ...now,
      memory: cache.of(technique.id),
    });
  });

  const course = shared.recall('course', [JSON.stringify(routeOf(input.route))], () => layOut(input.route));
  const inRun = new Map<string, number>();
  for (const [id, { technique, posterior, logitsNow }] of subjects) {
    if (technique.state !== 'in-run') continue;
    const mean = cache
      .of(id)
      .recall('mean rate in a run', [posterior, logitsNow, rates], () =>
        expectInRun(posterior, logitsNow, rates),
      );
    inRun.set(id, Math.round(mean * rateSteps) / rateSteps);
  }
  const valuer = valuerOf(course, inRun, constants, cache);
  return { constants, grid: grids.fresh, losses, runner, course, subjects, rates, inRun, shared, valuer };
}

/** What the course is laid out from: techniques' own numbers have no part in it. */
function routeOf({ segments, restart }: RouteModel): Omit<RouteModel, 'techniques'> {
  return { segments, restart };
}

/** Every technique's posterior, in the order of the members. */
function posteriorsOf(
  members: readonly (Member & { readonly memory: Memory })[],
  readings: readonly LogReading[],
  runner: RunnerPosterior,
  losses: LossGrid,
  constants: Constants,
  shared: Memory,
): SkillPosterior[] {
  const priors = shared.recall('priors', [constants], () => new Map<string, Float64Array>());
  // Nothing but the prior tells techniques apart that were never counted: they share one posterior.
  const uncounted = shared.recall('uncounted', [constants], () => new Memory());
  const wanted = new Set<string>();
  const posteriors = members.map(({ difficulty, memory }, i) => {
    const { evidence, grid, history } = readings[i]!;
    const belief = beliefWithout(runner, runner.memberLikelihoods[i] ?? null, constants);
    const key = `${difficulty} ${beliefKey(belief)}`;
    wanted.add(key);
    const prior = priors.get(key) ?? skillPrior(difficulty, belief, grid, losses, constants);
    priors.set(key, prior);
    const alike = evidence === null ? uncounted : memory;
    const name = evidence === null ? `posterior ${key} ${history.headStart}` : 'posterior';
    return alike.recall(name, [evidence, prior], () => skillPosterior(evidence, prior, grid, losses));
  });
  for (const key of [...priors.keys()]) if (!wanted.has(key)) priors.delete(key);
  uncounted.keepOnly(
    new Set([...wanted].flatMap((key) => [`posterior ${key} true`, `posterior ${key} false`])),
  );
  return posteriors;
}
