import type { PracticePoint } from '../../model/rank/rateCurve.ts';
import { TechniqueEstimator, type GainsOrReason } from '../../model/rank/techniqueEstimator.ts';
import type { Assessment } from '../../model/core/types.ts';
import type { Project } from '../../workspace/project.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import { runnerFilesOf, type RunnerFiles } from '../../workspace/runnerFiles.ts';
import { dailyBlocks, daysAhead } from './dailyBlocks.ts';
import type { Estimates } from './estimates.ts';

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
  /** URIs of the routes that were asked about. */
  private readonly requestedRoutes = new Set<string>();

  constructor(estimates: Estimates) {
    this.estimates = estimates;
  }

  of(project: Project, own: RunnerFiles, id: string): TechniqueEstimates {
    const { modelInput: question, estimator: closeUp, estimates: numbers } = this.estimatorFor(project, own);
    const known = numbers.get(id) ?? {
      modelInput: question,
      assessment: closeUp.assessment(id),
      rankingOutcome: closeUp.gains(id),
      curve: closeUp.curve(id, dailyBlocks(question), question.asOfDay + daysAhead),
    };
    numbers.set(id, known);
    this.requestedRoutes.add(project.route.uri);
    return known;
  }

  /** Makes ready for the next question about a route that was asked about before. */
  warm(project: Project): void {
    const own = this.requestedRoutes.has(project.route.uri) ? runnerFilesOf(project) : undefined;
    if (own && !('runners' in own)) this.estimatorFor(project, own).estimator.warmUp();
  }

  /** Lets go of everything that belongs to routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const uri of [...this.requestedRoutes]) if (!present.has(uri)) this.requestedRoutes.delete(uri);
  }

  private estimatorFor(project: Project, own: RunnerFiles): CachedEstimator {
    const question = this.estimates.modelInput(project, own);
    let kept = this.cached.get(question);
    if (!kept) {
      const closeUp = new TechniqueEstimator(question, this.estimates.cache(project));
      kept = { modelInput: question, estimator: closeUp, estimates: new Map() };
      this.cached.set(question, kept);
    }
    return kept;
  }
}
