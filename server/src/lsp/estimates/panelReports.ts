import type { Steps } from '../../incremental/steps.ts';
import { buildRateCurveInSteps, type RateCurve, type PlannedBlock } from '../../model/rank/rateCurve.ts';
import type { Ranking } from '../../model/core/results.ts';
import { objectiveOptions } from '../../model/rank/objectives/objectives.ts';
import { resetPreferenceInSteps, type ResetPreference } from '../../model/rank/resetPreference.ts';
import { ModelCache, rankInSteps } from '../../model/index.ts';
import { reviewWeekInSteps, type Review } from '../../model/review/reviewWeek.ts';
import { breakdownInSteps, type Breakdown } from '../../model/run/breakdown.ts';
import { runTimesInSteps, type RunTimes } from '../../model/run/runTimes.ts';
import {
  planWeekDeferringGapInSteps,
  type Plan,
  type OptimalityGap,
  type PlanWithDeferredGap,
} from '../../model/week/planWeek.ts';
import { tonightOfInSteps, type Tonight } from '../../model/tonight/tonight.ts';
import type { TonightInput } from '../../model/tonight/tonightInput.ts';
import type { RouteRevision } from '../../protocol/routeRevision.ts';
import { compareInSteps, type Comparison, type ComparisonInput } from '../../reports/compare/comparison.ts';
import type { OddsReport } from '../../reports/odds/oddsReport.ts';
import type { Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { runReviewsInSteps, type RunChange } from '../../reports/review/runChange.ts';
import {
  practiseOrRunReportInSteps,
  type PractiseOrRunReport,
} from '../../reports/odds/practiseOrRunReport.ts';
import { runOddsInSteps } from '../../reports/odds/runOdds.ts';
import { buildTonightInputInSteps } from '../../queries/tonightInput.ts';
import { weekInputFrom, weeksAhead, type WeekInput } from '../../queries/weekInput.ts';
import type { Estimates } from './estimates.ts';
import { modelInputKey } from './modelInputKey.ts';
import type { RouteStore, RouteStores } from './routeStore.ts';

/** The kinds of report that the panel shows. */
export type ReportKind =
  'week' | 'gap' | 'tonight' | 'ranking' | 'preference' | 'curve' | 'odds' | 'review' | 'after' | 'compare';

/** The reviews without one run and with it, and what was usual for that run. */
export interface RunAgainstUsual extends RunChange<Review> {
  /** Expected seconds of each segment for a run that reaches the end, from everything but this run, in the route's order. */
  readonly usual: Breakdown['segments'];
}

/** The model's answer, and whether it is for the current files or for earlier ones. */
export interface ReportResult<T> {
  readonly report: T | undefined;
  readonly fresh: boolean;
}

interface CachedReport {
  readonly key: string;
  readonly report: unknown;
}

/** Two routes compared. */
export interface ComparedAnswer {
  readonly comparison: Comparison;
  /** The other route as it was then: it names its parts until it is read again. */
  readonly other: Project;
}

/** Answers of a kind kept for each route: enough to switch between a few curves, or a few routes to compare. */
const maxOfKind = 8;

/**
 * The model's answers that the panel shows. Each is kept with the numbers that it was computed from, and computed again
 * only where one of those changed: after an edit of a name, a note or a comment nothing is computed. So no answer
 * that is kept holds a name of this route; whoever shows it puts the names in.
 */
export class PanelReports {
  /** How often each kind was computed; read by tests. */
  readonly counts: Record<ReportKind, number> = {
    week: 0,
    gap: 0,
    tonight: 0,
    ranking: 0,
    preference: 0,
    curve: 0,
    odds: 0,
    review: 0,
    after: 0,
    compare: 0,
  };
  /** By route, then by the report's name. */
  private readonly cached: RouteStore<Map<string, CachedReport>>;
  private readonly estimates: Estimates;
  /** What was computed for the last time, which changes less often than today's. */
  private readonly lastTimes: RouteStore<ModelCache>;
  private readonly weeks = new WeakMap<ModelInput, WeekInput>();
  private readonly tonights = new WeakMap<WeekInput, TonightInput>();
  private readonly gaps = new WeakMap<Plan, OptimalityGap>();
  private readonly gapsInSteps = new WeakMap<Plan, PlanWithDeferredGap['gapSteps']>();

  /** @param estimates gives the model's cache of each route */
  constructor(estimates: Estimates, routes: RouteStores) {
    this.estimates = estimates;
    this.cached = routes.create();
    this.lastTimes = routes.create();
  }

  /**
   * @param wait false: gives the last report computed, and does no work
   * @param by the objective of the ranking, with the value that it needs
   */
  *ranking(
    project: Project,
    input: ModelInput,
    wait: boolean,
    by = objectiveOptions(undefined, {}),
  ): Steps<ReportResult<Ranking>> {
    const name = `ranking by ${by.objective}`;
    const key = modelInputKey(input) + JSON.stringify(by);
    const options = { ...input.options, ...by };
    return yield* this.cachedReport(project, 'ranking', name, key, wait, () =>
      rankInSteps({ ...input, options }, this.estimates.cache(project)),
    );
  }

  /**
   * The first places at other weights of a second lost to resets. It takes about as long as a ranking.
   *
   * @param wait false: gives what is known for these files, and does no work
   */
  *preference(
    project: Project,
    input: ModelInput,
    wait: boolean,
  ): Steps<ReportResult<ResetPreference | null>> {
    return yield* this.cachedReport(project, 'preference', 'preference', modelInputKey(input), wait, () =>
      resetPreferenceInSteps(input, this.estimates.cache(project)),
    );
  }

  /** The planner's input, for the same route and day as the ranking's `input`. */
  weekPlanInput(project: Project, own: RunnerFiles, input: ModelInput): WeekInput {
    const weekInput = this.weeks.get(input) ?? weekInputFrom(input, project, own, weeksAhead);
    this.weeks.set(input, weekInput);
    return weekInput;
  }

  /** The plan of the coming weeks. */
  *week(project: Project, input: ModelInput, weekInput: WeekInput, wait: boolean): Steps<ReportResult<Plan>> {
    const key = weekKey(input, weekInput);
    const { gapsInSteps } = this;
    const work = planWeekDeferringGapInSteps(weekInput.planInput, this.estimates.cache(project));
    return yield* this.cachedReport(project, 'week', 'week', key, wait, function* () {
      const { plan, gapSteps } = yield* work;
      gapsInSteps.set(plan, gapSteps);
      return plan;
    });
  }

  /**
   * What to practise now.
   *
   * @param wait false: gives the last answer computed, and does no work
   */
  *tonight(
    project: Project,
    own: RunnerFiles,
    input: ModelInput,
    wait: boolean,
  ): Steps<ReportResult<Tonight>> {
    const weekInput = this.weekPlanInput(project, own, input);
    const lastTimeCache = this.lastTimes.getOrMake(project, () => new ModelCache());
    const tonightInput =
      this.tonights.get(weekInput) ??
      (yield* buildTonightInputInSteps(project, own, weekInput, lastTimeCache.shared));
    this.tonights.set(weekInput, tonightInput);
    const { lastTime, givenMinutes } = tonightInput;
    const before = lastTime === null ? null : modelInputKey(lastTime);
    const key = weekKey(input, weekInput) + JSON.stringify([givenMinutes, before]);
    const planned = this.week(project, input, weekInput, true);
    const caches = { today: this.estimates.cache(project), lastTime: lastTimeCache };
    return yield* this.cachedReport(project, 'tonight', 'tonight', key, wait, function* () {
      const { report: plan } = yield* planned;
      return plan && (yield* tonightOfInSteps(tonightInput, plan, caches));
    });
  }

  /** How far a plan may be from the best one, as far as that has been computed. */
  gap(plan: Plan): OptimalityGap {
    return this.gaps.get(plan) ?? plan.gap;
  }

  /**
   * Computes how far a plan may be from the best one, in short steps. Where the caller stops early, nothing is kept.
   */
  *gapInSteps(plan: Plan): Generator<undefined, OptimalityGap> {
    const lastGap = this.gap(plan);
    const steps = this.gapsInSteps.get(plan);
    if (lastGap.method !== 'not bounded' || !steps) return lastGap;
    this.counts.gap += 1;
    const gap = yield* steps();
    this.gaps.set(plan, gap);
    return gap;
  }

  /**
   * The curve of one technique.
   *
   * @param planned the planned blocks of the technique, and the last morning to draw
   */
  *curve(
    project: Project,
    input: ModelInput,
    technique: string,
    planned: { readonly blocks: readonly PlannedBlock[]; readonly until: number },
    wait: boolean,
  ): Steps<ReportResult<RateCurve>> {
    const key = modelInputKey(input) + JSON.stringify(planned);
    return yield* this.cachedReport(project, 'curve', `curve ${technique}`, key, wait, () =>
      buildRateCurveInSteps(input, technique, planned.blocks, planned.until, this.estimates.cache(project)),
    );
  }

  /**
   * The odds of a run.
   *
   * @param target seconds
   */
  *odds(
    project: Project,
    own: RunnerFiles,
    input: ModelInput,
    target: number | null,
    wait: boolean,
  ): Steps<ReportResult<{ readonly odds: OddsReport; readonly times: RunTimes }>> {
    const weekInput = this.weekPlanInput(project, own, input);
    const key = weekKey(input, weekInput) + JSON.stringify([target, weekInput.runMinutes]);
    const cache = this.estimates.cache(project);
    const planned = this.week(project, input, weekInput, true);
    return yield* this.cachedReport(project, 'odds', 'odds', key, wait, function* () {
      let split: PractiseOrRunReport | null = null;
      if (target !== null) {
        const { report: plan } = yield* planned;
        if (plan) split = yield* practiseOrRunReportInSteps(weekInput, plan.days, { target }, cache);
      }
      return {
        odds: yield* runOddsInSteps(input, { target, with: [] }, cache, split),
        times: yield* runTimesInSteps(input, cache),
      };
    });
  }

  /** The review of the last week. A review of older files may name a technique that is gone. */
  *review(project: Project, input: ModelInput, wait: boolean): Steps<ReportResult<Review>> {
    return yield* this.cachedReport(project, 'review', 'review', modelInputKey(input), wait, () =>
      reviewWeekInSteps(input, this.estimates.cache(project)),
    );
  }

  /**
   * What one logged run changed; undefined where the runner's files do not have it.
   *
   * @param run its key, see `runKey`
   */
  *after(
    project: Project,
    own: RunnerFiles,
    input: ModelInput,
    run: string,
    wait: boolean,
  ): Steps<ReportResult<RunAgainstUsual>> {
    const key = modelInputKey(input) + JSON.stringify(run);
    const cache = this.estimates.cache(project);
    return yield* this.cachedReport(project, 'after', 'after', key, wait, function* () {
      const reviews = yield* runReviewsInSteps(project, own, run, input.asOfDay, cache);
      if (reviews === undefined) return undefined;
      const { before, after, earlier } = reviews;
      return { before, after, usual: (yield* breakdownInSteps(earlier, [], cache)).segments };
    });
  }

  /**
   * The route compared with another one.
   *
   * @param compared which route or revision the other one is
   * @param now the other route and the numbers of both; undefined where it is not read: gives the last comparison with it
   */
  *comparison(
    project: Project,
    compared: RouteRevision,
    now: { readonly other: Project; readonly input: ComparisonInput } | undefined,
  ): Steps<ReportResult<ComparedAnswer>> {
    const name = `compare ${JSON.stringify([compared.uri, compared.revision])}`;
    const key = now === undefined ? '' : comparisonKey(now.input);
    return yield* this.cachedReport(project, 'compare', name, key, now !== undefined, function* () {
      return now && { comparison: yield* compareInSteps(now.input, []), other: now.other };
    });
  }

  private *cachedReport<T>(
    project: Project,
    kind: ReportKind,
    name: string,
    key: string,
    wait: boolean,
    work: () => Steps<T | undefined>,
  ): Steps<ReportResult<T>> {
    const own = this.cached.getOrMake(project, () => new Map<string, CachedReport>());
    // A report kept under a name always has that name's type.
    const cached = own.get(name) as (CachedReport & { readonly report: T | undefined }) | undefined;
    if (cached?.key === key) return { report: cached.report, fresh: true };
    if (!wait) return { report: cached?.report, fresh: false };
    this.counts[kind] += 1;
    const report = yield* work();
    own.delete(name);
    own.set(name, { key, report });
    const ofKind = [...own.keys()].filter((one) => one.startsWith(`${kind} `));
    for (const one of ofKind.slice(0, Math.max(0, ofKind.length - maxOfKind))) own.delete(one);
    return { report, fresh: true };
  }
}

/** Equal texts have the same plan. */
function weekKey(input: ModelInput, { planInput }: WeekInput): string {
  return modelInputKey(input) + JSON.stringify([planInput.minutes, planInput.pin]);
}

/** Equal texts have the same comparison. */
function comparisonKey({ a, b, ...both }: ComparisonInput): string {
  const sides = [a, b].map(({ label, modelInput, times }) => [label, modelInput.times.asWritten, times]);
  return modelInputKey(a.modelInput) + modelInputKey(b.modelInput) + JSON.stringify([both, sides]);
}
