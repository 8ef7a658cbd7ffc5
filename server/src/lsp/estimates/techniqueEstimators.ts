import type { PracticePoint } from '../../model/rank/rateCurve.ts';
import { CloseUp, type Standing } from '../../model/rank/techniqueEstimator.ts';
import type { Assessment } from '../../model/core/types.ts';
import type { Project } from '../../workspace/project.ts';
import type { Question } from '../../queries/modelInput.ts';
import { ownPart, type Own } from '../../workspace/runnerFiles.ts';
import { dailyBlocks, daysAhead } from './dailyBlocks.ts';
import type { Estimates } from './estimates.ts';

/** What is known of one technique. */
export interface TechniqueNumbers {
  readonly question: Question;
  readonly assessment: Assessment | undefined;
  readonly standing: Standing | undefined;
  /** In practice, with a block of it on each of the next 28 days. */
  readonly curve: readonly PracticePoint[] | undefined;
}

interface Kept {
  readonly question: Question;
  readonly closeUp: CloseUp;
  /** By technique, as far as they were asked for. */
  readonly numbers: Map<string, TechniqueNumbers>;
}

/** One technique's numbers for a closer look, without the ranking of all: that takes seconds on a long route. */
export class CloseUps {
  private readonly estimates: Estimates;
  private readonly kept = new WeakMap<Question, Kept>();
  /** URIs of the routes that were asked about. */
  private readonly asked = new Set<string>();

  constructor(estimates: Estimates) {
    this.estimates = estimates;
  }

  of(project: Project, own: Own, id: string): TechniqueNumbers {
    const { question, closeUp, numbers } = this.about(project, own);
    const known = numbers.get(id) ?? {
      question,
      assessment: closeUp.assessment(id),
      standing: closeUp.standing(id),
      curve: closeUp.curve(id, dailyBlocks(question), question.asOfDay + daysAhead),
    };
    numbers.set(id, known);
    this.asked.add(project.route.uri);
    return known;
  }

  /** Makes ready for the next question about a route that was asked about before. */
  warm(project: Project): void {
    const own = this.asked.has(project.route.uri) ? ownPart(project) : undefined;
    if (own && !('runners' in own)) this.about(project, own).closeUp.warm();
  }

  /** Lets go of everything that belongs to routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const uri of [...this.asked]) if (!present.has(uri)) this.asked.delete(uri);
  }

  private about(project: Project, own: Own): Kept {
    const question = this.estimates.question(project, own);
    let kept = this.kept.get(question);
    if (!kept) {
      const closeUp = new CloseUp(question, this.estimates.cache(project));
      kept = { question, closeUp, numbers: new Map() };
      this.kept.set(question, kept);
    }
    return kept;
  }
}
