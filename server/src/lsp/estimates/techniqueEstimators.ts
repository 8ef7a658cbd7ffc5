import type { PracticePoint } from '../../model/rank/rateCurve.ts';
import { TechniqueEstimator, type GainsOrReason } from '../../model/rank/techniqueEstimator.ts';
import type { Assessment } from '../../model/core/types.ts';
import type { Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import { dailyBlocks, daysAhead } from './dailyBlocks.ts';
import type { Estimates } from './estimates.ts';
import type { RouteStore, RouteStores } from './routeStore.ts';

/** What is known of one technique. */
export interface TechniqueEstimates {
  readonly modelInput: ModelInput;
  readonly assessment: Assessment | undefined;
  readonly rankingOutcome: GainsOrReason | undefined;
  /** In practice, with a block of it on each of the next 28 days. */
  readonly curve: readonly PracticePoint[] | undefined;
}

interface CachedEstimator {
  readonly modelInput: ModelInput;
  readonly estimator: TechniqueEstimator;
  /** By technique, as far as they were asked for. */
  readonly estimates: Map<string, TechniqueEstimates>;
}

/** One technique's numbers for a closer look, without the ranking of all: that takes seconds on a long route. */
export class TechniqueEstimators {
  private readonly estimates: Estimates;
  private readonly cached = new WeakMap<ModelInput, CachedEstimator>();
  /** Routes that were asked about. */
  private readonly requested: RouteStore<true>;

  constructor(estimates: Estimates, routes: RouteStores) {
    this.estimates = estimates;
    this.requested = routes.create();
  }

  of(project: Project, own: RunnerFiles, id: string): TechniqueEstimates {
    const { modelInput, estimator, estimates } = this.estimatorFor(project, own);
    const known = estimates.get(id) ?? {
      modelInput,
      assessment: estimator.assessment(id),
      rankingOutcome: estimator.gains(id),
      curve: estimator.curve(id, dailyBlocks(modelInput), modelInput.asOfDay + daysAhead),
    };
    estimates.set(id, known);
    this.requested.set(project, true);
    return known;
  }

  /** Makes ready for the next question about a route that was asked about before. */
  warm(project: Project): void {
    const own = this.requested.has(project) ? runnerFilesOf(project) : undefined;
    if (own && !('runners' in own)) this.estimatorFor(project, own).estimator.warmUp();
  }

  private estimatorFor(project: Project, own: RunnerFiles): CachedEstimator {
    const modelInput = this.estimates.modelInput(project, own);
    let kept = this.cached.get(modelInput);
    if (!kept) {
      const estimator = new TechniqueEstimator(modelInput, this.estimates.cache(project));
      kept = { modelInput, estimator, estimates: new Map() };
      this.cached.set(modelInput, kept);
    }
    return kept;
  }
}
