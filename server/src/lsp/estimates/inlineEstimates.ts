import { assess, rank } from '../../model/index.ts';
import { breakdown } from '../../model/run/breakdown.ts';
import type { Assessment, RankRow } from '../../model/core/types.ts';
import type { TechniqueState } from '../../files/documents/documents.ts';
import { techniqueNamesOf } from '../../queries/names.ts';
import type { Project } from '../../workspace/project.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { filesOf } from '../../workspace/workspace.ts';
import type { Estimates } from './estimates.ts';

/** What is shown between the lines of a route. */
export interface RouteEstimates {
  /** By technique id; `place` counts from 1. */
  readonly ranked: ReadonlyMap<string, { readonly row: RankRow; readonly place: number }>;
  readonly assessed: ReadonlyMap<string, Assessment>;
  /** Expected seconds of each segment, with what is in the run tried there. */
  readonly segments: ReadonlyMap<string, number>;
  readonly states: ReadonlyMap<string, TechniqueState>;
  /** Techniques used in each segment, and names of techniques: for where the text does not say them now. */
  readonly uses: ReadonlyMap<string, readonly string[]>;
  readonly names: ReadonlyMap<string, string>;
}

interface CachedRouteEstimates {
  readonly key: string;
  /** Problems in the route's files when the numbers were worked out. */
  readonly problems: number;
  readonly estimates: RouteEstimates;
}

/**
 * The numbers that stand between the lines of routes. Asking for them costs nothing: they are those worked out last.
 * They are worked out anew only by `work`, after a pause, for routes that somebody looks at, and only where a number
 * behind them changed. While a file is half typed they stay as they are, so that nothing jumps under the cursor.
 */
export class InlineEstimates {
  /** How often numbers were worked out. */
  updateCount = 0;
  private readonly estimates: Estimates;
  private readonly viewedRoutes = new Set<string>();
  private readonly cached = new Map<string, CachedRouteEstimates>();

  constructor(estimates: Estimates) {
    this.estimates = estimates;
  }

  /** The numbers worked out last, perhaps of older files; from now on the route's numbers are kept up to date. */
  of(project: Project): RouteEstimates | undefined {
    this.viewedRoutes.add(project.route.uri);
    return this.cached.get(project.route.uri)?.estimates;
  }

  /** Those of these routes that are looked at and whose numbers are out of date. */
  stale(projects: readonly Project[]): readonly Project[] {
    return projects.filter((project) => {
      if (!this.viewedRoutes.has(project.route.uri)) return false;
      const kept = this.cached.get(project.route.uri);
      if (kept && problemsOf(project) > kept.problems) return false;
      const input = this.input(project);
      return input ? kept?.key !== keyOf(input) : kept !== undefined;
    });
  }

  /** Works a route's numbers out. It may take a second; `pause` is awaited in between, and where it says no, it stops. */
  async update(project: Project, pause: () => Promise<boolean>): Promise<boolean> {
    const { uri } = project.route;
    const input = this.input(project);
    if (!input) return this.cached.delete(uri);
    const cache = this.estimates.cache(project);
    this.updateCount++;
    const ranking = rank(input, cache);
    if (!(await pause())) return false;
    const assessed = assess(input, cache, new Set(project.techniques.keys()));
    if (!(await pause())) return false;
    const { segments } = breakdown(input, [], cache);
    this.cached.set(uri, {
      key: keyOf(input),
      problems: problemsOf(project),
      estimates: {
        ranked: new Map(ranking.rows.map((row, index) => [row.technique, { row, place: index + 1 }])),
        assessed: new Map(assessed),
        segments: new Map(segments.map(({ segment, seconds }) => [segment, seconds])),
        states: input.states,
        uses: new Map(
          project.segments.map(({ id, uses }) => [id, [...new Set(uses.map(({ technique }) => technique))]]),
        ),
        names: techniqueNamesOf(project),
      },
    });
    return true;
  }

  /** Lets go of everything that belongs to routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const uri of [...this.cached.keys()]) if (!present.has(uri)) this.cached.delete(uri);
    for (const uri of [...this.viewedRoutes]) if (!present.has(uri)) this.viewedRoutes.delete(uri);
  }

  /** Undefined where several runners are named: a number needs one. */
  private input(project: Project): EstimateInput | undefined {
    const own = runnerFilesOf(project);
    if ('runners' in own) return undefined;
    return this.estimates.modelInput(project, own);
  }
}

type EstimateInput = ReturnType<Estimates['modelInput']>;

/** The numbers of a question as text: equal texts have equal answers. */
function keyOf({ route, logs, asOfDay, options, constants }: EstimateInput): string {
  return JSON.stringify([route, logs, asOfDay, options, constants]);
}

function problemsOf(project: Project): number {
  return filesOf(project).reduce((sum, { reading }) => sum + reading.problems.length, 0);
}
