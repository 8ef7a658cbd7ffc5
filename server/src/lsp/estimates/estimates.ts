import type { Steps } from '../../incremental/steps.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import { sameItems } from '../../incremental/mapIncremental.ts';
import type { Moment } from '../../text/calendar.ts';
import type { Reading } from '../../files/reading/reading.ts';
import { assessInSteps, rankInSteps, type Assessment, ModelCache } from '../../model/index.ts';
import { rankReport } from '../../reports/rank/rankReport.ts';
import { type RankReport } from '../../protocol/rankReport.ts';
import type { Project } from '../../workspace/project.ts';
import { type AnswerDay, answerDayOf, type DayChoice } from '../../queries/answerDay.ts';
import { buildModelInputInSteps, type ModelInput } from '../../queries/modelInput.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { filesOf } from '../../workspace/workspace.ts';
import type { RouteStore, RouteStores } from './routeStore.ts';

type Assessments = ReadonlyMap<string, Assessment>;

/** The results for one route, with the readings, the day and the runner that they were computed for. */
interface CachedRoute {
  readonly readings: readonly Reading[];
  readonly day: number;
  readonly runner: string | undefined;
  modelInput?: ModelInput;
  /** By technique id; only those requested so far. */
  readonly assessment: Map<string, Assessment>;
  report?: RankReport;
  reportOfAll?: RankReport;
}

/**
 * The model's answers for each route, computed in steps when they are requested and kept as long as the files and the
 * day are the same.
 */
export class Estimates {
  private readonly cached: RouteStore<CachedRoute>;
  private readonly caches: RouteStore<ModelCache>;
  private readonly lastAssessments: RouteStore<Assessments>;
  private readonly now: () => Moment;
  private today: Moment | 'last' | undefined;

  /** @param now the date and time of day on the server's own clock, for a client that does not send its date */
  constructor(routes: RouteStores, now: () => Moment) {
    this.now = now;
    this.cached = routes.create();
    this.caches = routes.create();
    this.lastAssessments = routes.create();
  }

  /**
   * Sets the runner's date and time of day; `last`: answers are for the day after the last log entry; undefined: they
   * are for today on the server's own clock.
   */
  setToday(today: Moment | 'last' | undefined): void {
    this.today = today;
  }

  /** The day that answers about a runner's files are for. It changes where the runner's day ends. */
  answerDay(own: RunnerFiles): AnswerDay {
    return answerDayOf(own, this.dayChoice());
  }

  /** The same, before it is known whose files an answer is about. */
  dayChoice(): DayChoice {
    return this.today === 'last' || this.today === undefined
      ? { now: this.now(), asked: this.today }
      : { now: this.today, asked: undefined };
  }

  /** Day number of {@link answerDay}. */
  day(own: RunnerFiles): number {
    return this.answerDay(own).day;
  }

  *modelInput(project: Project, own: RunnerFiles): Steps<ModelInput> {
    const kept = this.cachedRoute(project, own);
    return (kept.modelInput ??= yield* buildModelInputInSteps(project, own, {
      asOf: kept.day,
      memory: this.cache(project).shared,
    }));
  }

  /** @param all whether techniques that are in the run already are ranked as well */
  *ranking(project: Project, own: RunnerFiles, all = false): Steps<RankReport> {
    const kept = this.cachedRoute(project, own);
    const key = all ? 'reportOfAll' : 'report';
    const input = yield* this.modelInput(project, own);
    const ranked = all ? { ...input, options: { ...input.options, all } } : input;
    return (kept[key] ??= rankReport(
      yield* rankInSteps(ranked, this.cache(project)),
      input.asOfDay,
      techniqueNamesOf(project),
    ));
  }

  /** Assessments of the techniques with these ids, for now. */
  *assessment(project: Project, own: RunnerFiles, ids: Iterable<string>): Steps<Assessments> {
    const { assessment } = this.cachedRoute(project, own);
    const missing = new Set([...ids].filter((id) => !assessment.has(id)));
    if (missing.size > 0) {
      const input = yield* this.modelInput(project, own);
      const found = yield* assessInSteps(input, this.cache(project), missing);
      for (const [id, one] of found) assessment.set(id, one);
    }
    this.lastAssessments.set(project, assessment);
    return assessment;
  }

  /** The last assessment that was computed, perhaps of older files. It is shown until the next one is ready. */
  lastAssessment(project: Project): Assessments | undefined {
    return this.lastAssessments.get(project);
  }

  /** Whether an assessment of these techniques would have to be computed first. */
  isStale(project: Project, own: RunnerFiles, ids: Iterable<string>): boolean {
    const { assessment } = this.cachedRoute(project, own);
    return (
      [...ids].some((id) => project.techniques.has(id) && !assessment.has(id)) ||
      this.lastAssessments.get(project) !== assessment
    );
  }

  private cachedRoute(project: Project, own: RunnerFiles): CachedRoute {
    const readings = filesOf(project).map(({ reading }) => reading);
    const day = this.day(own);
    const { runner } = own;
    const before = this.cached.get(project);
    if (before?.day === day && before.runner === runner && sameItems(before.readings, readings))
      return before;
    // What was found of one runner is never shown for another, not even until their own numbers are ready.
    if (before && before.runner !== runner) this.lastAssessments.delete(project);
    const kept: CachedRoute = { readings, day, runner, assessment: new Map() };
    this.cached.set(project, kept);
    return kept;
  }

  /** The model's cache for a route, which is kept between requests. */
  cache(project: Project): ModelCache {
    return this.caches.getOrMake(project, () => new ModelCache());
  }
}
