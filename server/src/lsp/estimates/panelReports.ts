import { buildRateCurve, type RateCurve, type PlannedBlock } from '../../model/rank/rateCurve.ts';
import { objectiveOptions } from '../../model/rank/objectives/objectives.ts';
import { rank } from '../../model/index.ts';
import { runTimes, type RunTimes } from '../../model/run/runTimes.ts';
import {
  planWeekDeferringGap,
  type Plan,
  type OptimalityGap,
  type PlanWithDeferredGap,
} from '../../model/week/planWeek.ts';
import type { OddsReport } from '../../reports/odds/oddsReport.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { type RankReport } from '../../protocol/rankReport.ts';
import type { Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { runOdds } from '../../reports/odds/runOdds.ts';
import { weekInputFrom, type WeekInput } from '../../queries/weekInput.ts';
import { weeksAhead } from './dailyBlocks.ts';
import type { Estimates } from './estimates.ts';

/** What can be worked out for the panel. */
export type ReportKind = 'week' | 'gap' | 'ranking' | 'curve' | 'run';

/** The model's answer, and whether it is to the question as it stands or to an earlier one. */
export interface ReportResult<T> {
  readonly report: T | undefined;
  readonly fresh: boolean;
}

interface CachedReport {
  readonly key: string;
  readonly report: unknown;
}

/** Curves kept for each route: enough to go back and forth between a few. */
const maxCurves = 8;

/**
 * The model's answers that the panel shows. Each is kept with the numbers that it was worked out from, and worked
 * out again only where one of those changed: an edit of a name, a note or a comment costs nothing here.
 */
export class PanelReports {
  /** How often each kind was worked out. */
  readonly counts: Record<ReportKind, number> = { week: 0, gap: 0, ranking: 0, curve: 0, run: 0 };
  private readonly cached = new Map<string, Map<string, CachedReport>>();
  private readonly estimates: Estimates;
  private readonly weeks = new WeakMap<ModelInput, WeekInput>();
  private readonly gaps = new WeakMap<Plan, OptimalityGap>();
  private readonly gapsInSteps = new WeakMap<Plan, PlanWithDeferredGap['gapSteps']>();
  private readonly keys = new WeakMap<ModelInput, string>();

  /** @param estimates keeps what the model remembers of each route */
  constructor(estimates: Estimates) {
    this.estimates = estimates;
  }

  /**
   * @param wait false: whatever was worked out last, with no work done
   * @param by what it is by, with what that needs
   */
  ranking(
    project: Project,
    question: ModelInput,
    wait: boolean,
    by = objectiveOptions(undefined, {}),
  ): ReportResult<RankReport> {
    const name = `ranking by ${by.objective}`;
    const key = this.keyOf(question) + JSON.stringify(by);
    return this.cachedReport(project, 'ranking', name, key, wait, () => {
      const options = { ...question.options, ...by };
      return rankReport(rank({ ...question, options }, this.estimates.cache(project)), question.asOfDay);
    });
  }

  /** What the planner is asked where the ranking is asked `question`. */
  weekPlanInput(project: Project, own: RunnerFiles, question: ModelInput): WeekInput {
    const known = this.weeks.get(question) ?? weekInputFrom(question, project, own, weeksAhead);
    this.weeks.set(question, known);
    return known;
  }

  /** The plan of the coming weeks. */
  week(project: Project, question: ModelInput, asked: WeekInput, wait: boolean): ReportResult<Plan> {
    const key = this.keyOf(question) + JSON.stringify([asked.planInput.minutes, asked.planInput.pin]);
    return this.cachedReport(project, 'week', 'week', key, wait, () => {
      const { plan, gapSteps: gapInSteps } = planWeekDeferringGap(
        asked.planInput,
        this.estimates.cache(project),
      );
      this.gapsInSteps.set(plan, gapInSteps);
      return plan;
    });
  }

  /** How good a plan is, as far as that has been worked out. */
  gap(plan: Plan): OptimalityGap {
    return this.gaps.get(plan) ?? plan.gap;
  }

  /** Works out how good a plan is, in short steps; nothing is kept of steps that are not gone to the end. */
  *gapInSteps(plan: Plan): Generator<undefined, OptimalityGap> {
    const known = this.gap(plan);
    const steps = this.gapsInSteps.get(plan);
    if (known.method !== 'not bounded' || !steps) return known;
    this.counts.gap += 1;
    const gap = yield* steps();
    this.gaps.set(plan, gap);
    return gap;
  }

  /**
   * The curve of one technique.
   *
   * @param planned blocks of it, and the last morning to draw
   */
  curve(
    project: Project,
    question: ModelInput,
    technique: string,
    planned: { readonly blocks: readonly PlannedBlock[]; readonly until: number },
    wait: boolean,
  ): ReportResult<RateCurve> {
    const key = this.keyOf(question) + JSON.stringify(planned);
    return this.cachedReport(project, 'curve', `curve ${technique}`, key, wait, () =>
      buildRateCurve(question, technique, planned.blocks, planned.until, this.estimates.cache(project)),
    );
  }

  run(
    project: Project,
    question: ModelInput,
    target: number | null,
    wait: boolean,
  ): ReportResult<{ readonly odds: OddsReport; readonly times: RunTimes }> {
    const key = this.keyOf(question) + String(target);
    return this.cachedReport(project, 'run', 'run', key, wait, () => {
      const cache = this.estimates.cache(project);
      return {
        odds: runOdds(question, { target, with: [] }, cache),
        times: runTimes(question, cache),
      };
    });
  }

  /** Lets go of everything that belongs to routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const uri of [...this.cached.keys()]) if (!present.has(uri)) this.cached.delete(uri);
  }

  private cachedReport<T>(
    project: Project,
    kind: ReportKind,
    name: string,
    key: string,
    wait: boolean,
    work: () => T | undefined,
  ): ReportResult<T> {
    const { uri } = project.route;
    const own = this.cached.get(uri) ?? new Map<string, CachedReport>();
    this.cached.set(uri, own);
    // The report kept under a name is of the kind that the name says.
    const known = own.get(name) as (CachedReport & { readonly report: T | undefined }) | undefined;
    if (known?.key === key) return { report: known.report, fresh: true };
    if (!wait) return { report: known?.report, fresh: false };
    this.counts[kind] += 1;
    const report = work();
    own.delete(name);
    own.set(name, { key, report });
    const curves = [...own.keys()].filter((one) => one.startsWith('curve '));
    for (const one of curves.slice(0, Math.max(0, curves.length - maxCurves))) own.delete(one);
    return { report, fresh: true };
  }

  /** The numbers of a question as text: equal texts have equal answers. */
  private keyOf(question: ModelInput): string {
    const known = this.keys.get(question);
    if (known !== undefined) return known;
    const { route, logs, asOfDay, options, constants } = question;
    const key = JSON.stringify([route, logs, asOfDay, options, constants]);
    this.keys.set(question, key);
    return key;
  }
}
