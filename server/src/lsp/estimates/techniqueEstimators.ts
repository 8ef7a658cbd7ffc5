import type { Steps } from '../../incremental/steps.ts';
import type { PracticePoint } from '../../model/rank/rateCurve.ts';
import { TechniqueEstimator, type GainsOrReason } from '../../model/rank/techniqueEstimator.ts';
import type { Assessment } from '../../model/core/results.ts';
import type { Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { modelFilesOf } from '../../queries/modelLimits.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import { dailyBlocks, daysAhead } from '../../queries/dailyBlocks.ts';
import type { Estimates } from './estimates.ts';
import type { RouteStore, RouteStores } from './routeStore.ts';

/** The model's numbers for one technique. */
export interface TechniqueEstimates {
  readonly modelInput: ModelInput;
  readonly assessment: Assessment | undefined;
  readonly rankingOutcome: GainsOrReason | undefined;
  /** The landing rate in practice, assuming a block of the technique on each of the next 28 days. */
  readonly curve: readonly PracticePoint[] | undefined;
}

interface CachedEstimator {
  readonly modelInput: ModelInput;
  readonly estimator: TechniqueEstimator;
  /** By technique id; only those requested so far. */
  readonly estimates: Map<string, TechniqueEstimates>;
}

/** The numbers of one technique alone: a ranking of all techniques takes seconds on a long route. */
export class TechniqueEstimators {
  private readonly estimates: Estimates;
  private readonly cached = new WeakMap<ModelInput, CachedEstimator>();
  /** Routes about which there was a request. */
  private readonly requested: RouteStore<true>;

  constructor(estimates: Estimates, routes: RouteStores) {
    this.estimates = estimates;
    this.requested = routes.create();
  }

  *of(project: Project, own: RunnerFiles, id: string): Steps<TechniqueEstimates> {
    const { modelInput, estimator, estimates } = yield* this.estimatorFor(project, own);
    const found = estimates.get(id) ?? {
      modelInput,
      assessment: estimator.assessment(id),
      rankingOutcome: yield* estimator.gainsInSteps(id),
      curve: estimator.curve(id, dailyBlocks(modelInput), modelInput.asOfDay + daysAhead),
    };
    estimates.set(id, found);
    this.requested.set(project, true);
    return found;
  }

  /** Prepares the next answer about a route, where there was a request about it before. */
  *warm(project: Project): Steps<void> {
    const own = this.requested.has(project) ? modelFilesOf(project) : undefined;
    if (!own) return;
    const { estimator } = yield* this.estimatorFor(project, own);
    yield* estimator.warmUpInSteps();
  }

  private *estimatorFor(project: Project, own: RunnerFiles): Steps<CachedEstimator> {
    const modelInput = yield* this.estimates.modelInput(project, own);
    let kept = this.cached.get(modelInput);
    if (!kept) {
      const estimator = yield* TechniqueEstimator.inSteps(modelInput, this.estimates.cache(project));
      kept = { modelInput, estimator, estimates: new Map() };
      this.cached.set(modelInput, kept);
    }
    return kept;
  }
}
