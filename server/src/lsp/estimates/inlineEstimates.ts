import type { Steps } from '../../incremental/steps.ts';
import { assessInSteps, rankInSteps } from '../../model/index.ts';
import { breakdownInSteps } from '../../model/run/breakdown.ts';
import type { Assessment, RankRow } from '../../model/core/results.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import type { Project } from '../../workspace/project.ts';
import { modelFilesOf } from '../../queries/modelLimits.ts';
import { filesOf } from '../../workspace/workspace.ts';
import { runInTurns, WorkStopped, type StopSignal } from '../documents/eventLoop.ts';
import type { Estimates } from './estimates.ts';
import { modelInputKey } from './modelInputKey.ts';
import type { RouteStore, RouteStores } from './routeStore.ts';

/** The numbers that the editor shows between the lines of a route. */
export interface RouteEstimates {
  /** Day number of the day that the numbers are for. */
  readonly day: number;
  /** By technique id; `place` counts from 1. */
  readonly ranked: ReadonlyMap<string, { readonly row: RankRow; readonly place: number }>;
  /** By technique id, every technique of the route: where it stands, and how it lands. */
  readonly assessed: ReadonlyMap<string, Assessment>;
  /** Expected seconds of each segment in a run that tries the techniques that are in the run. */
  readonly segments: ReadonlyMap<string, number>;
  /** Techniques used in each segment, and names of techniques. Needed while the text cannot be read. */
  readonly uses: ReadonlyMap<string, readonly string[]>;
  readonly names: ReadonlyMap<string, string>;
}

interface CachedRouteEstimates {
  readonly key: string;
  /** Number of problems in the route's files when the numbers were computed. */
  readonly problems: number;
  readonly estimates: RouteEstimates;
}

/** A computation of a route's numbers that has begun and not ended. */
interface RunningUpdate {
  readonly key: string;
  /** Resolves to false where the computation was stopped. */
  readonly finished: Promise<boolean>;
}

/**
 * The numbers shown between the lines of routes. Reading them takes no work: they are the last ones computed. Only
 * `update` computes new ones, after a pause, for routes that an editor shows, and only where a value that they depend
 * on changed. While a line is half typed they stay the same, so that nothing moves under the cursor.
 */
export class InlineEstimates {
  /** How often numbers were computed; read by tests. */
  updateCount = 0;
  private readonly estimates: Estimates;
  /** Routes whose numbers an editor has requested. */
  private readonly viewed: RouteStore<true>;
  private readonly cached: RouteStore<CachedRouteEstimates>;
  private readonly running: RouteStore<RunningUpdate>;

  constructor(estimates: Estimates, routes: RouteStores) {
    this.estimates = estimates;
    this.viewed = routes.create();
    this.cached = routes.create();
    this.running = routes.create();
  }

  /** The last numbers computed, perhaps of older files. From now on the route's numbers are kept up to date. */
  of(project: Project): RouteEstimates | undefined {
    this.viewed.set(project, true);
    return this.cached.get(project)?.estimates;
  }

  /** Those of these routes whose numbers an editor has requested and which are out of date. */
  *stale(projects: readonly Project[]): Steps<readonly Project[]> {
    const found: Project[] = [];
    for (const project of projects) {
      if (!this.viewed.has(project)) continue;
      const kept = this.cached.get(project);
      if (kept && problemsOf(project) > kept.problems) continue;
      const input = yield* this.input(project);
      if (input ? kept?.key !== modelInputKey(input) : kept !== undefined) found.push(project);
    }
    return found;
  }

  /**
   * Computes a route's numbers, which may take seconds. Where `signal` says so, the work stops. Where the same numbers
   * are being computed already, it waits for those, and computes them itself only if that work was stopped.
   *
   * @returns whether there are new numbers
   */
  async update(project: Project, signal: StopSignal): Promise<boolean> {
    try {
      for (;;) {
        const input = await runInTurns(this.input(project), signal);
        if (!input) return this.cached.delete(project);
        const key = modelInputKey(input);
        const running = this.running.get(project);
        if (running?.key !== key) return await this.begin(project, input, key, signal);
        if (await running.finished) return true;
      }
    } catch (error) {
      if (error instanceof WorkStopped) return false;
      throw error;
    }
  }

  private begin(project: Project, input: ModelInput, key: string, signal: StopSignal): Promise<boolean> {
    this.updateCount++;
    const work = runInTurns(this.compute(project, input, key), signal).then(
      () => true,
      (error: unknown) => {
        if (error instanceof WorkStopped) return false;
        throw error;
      },
    );
    const finished = work.finally(() => {
      if (this.running.get(project)?.finished === finished) this.running.delete(project);
    });
    this.running.set(project, { key, finished });
    return finished;
  }

  private *compute(project: Project, input: ModelInput, key: string): Steps<void> {
    const cache = this.estimates.cache(project);
    const ranking = yield* rankInSteps(input, cache);
    const assessed = yield* assessInSteps(input, cache, new Set(project.techniques.keys()));
    const { segments } = yield* breakdownInSteps(input, [], cache);
    this.cached.set(project, {
      key,
      problems: problemsOf(project),
      estimates: {
        day: input.asOfDay,
        ranked: new Map(ranking.rows.map((row, index) => [row.technique, { row, place: index + 1 }])),
        assessed: new Map(assessed),
        segments: new Map(segments.map(({ segment, seconds }) => [segment, seconds])),
        uses: new Map(
          project.segments.map(({ id, uses }) => [id, [...new Set(uses.map(({ technique }) => technique))]]),
        ),
        names: techniqueNamesOf(project),
      },
    });
  }

  /** Undefined where several runners are named, since numbers are for one runner, and where a route is too large. */
  private *input(project: Project): Steps<ModelInput | undefined> {
    const own = modelFilesOf(project);
    return own && (yield* this.estimates.modelInput(project, own));
  }
}

function problemsOf(project: Project): number {
  return filesOf(project).reduce((sum, { reading }) => sum + reading.problems.length, 0);
}
