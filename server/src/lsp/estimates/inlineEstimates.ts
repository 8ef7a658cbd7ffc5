import { assess, rank } from '../../model/index.ts';
import { breakdown } from '../../model/run/breakdown.ts';
import type { Assessment, RankRow } from '../../model/core/types.ts';
import type { State } from '../../files/documents/documents.ts';
import { namesOf } from '../../queries/names.ts';
import type { Project } from '../../workspace/project.ts';
import { ownPart } from '../../workspace/runnerFiles.ts';
import { filesOf } from '../../workspace/workspace.ts';
import type { Estimates } from './estimates.ts';

/** What is shown between the lines of a route. */
export interface Numbers {
  /** By technique id; `place` counts from 1. */
  readonly ranked: ReadonlyMap<string, { readonly row: RankRow; readonly place: number }>;
  readonly assessed: ReadonlyMap<string, Assessment>;
  /** Expected seconds of each segment, with what is in the run tried there. */
  readonly segments: ReadonlyMap<string, number>;
  readonly states: ReadonlyMap<string, State>;
  /** Techniques used in each segment, and names of techniques: for where the text does not say them now. */
  readonly uses: ReadonlyMap<string, readonly string[]>;
  readonly names: ReadonlyMap<string, string>;
}

interface Kept {
  readonly key: string;
  /** Problems in the route's files when the numbers were worked out. */
  readonly problems: number;
  readonly numbers: Numbers;
}

/**
 * The numbers that stand between the lines of routes. Asking for them costs nothing: they are those worked out last.
 * They are worked out anew only by `work`, after a pause, for routes that somebody looks at, and only where a number
 * behind them changed. While a file is half typed they stay as they are, so that nothing jumps under the cursor.
 */
export class ShownNumbers {
  /** How often numbers were worked out. */
  count = 0;
  private readonly estimates: Estimates;
  private readonly wanted = new Set<string>();
  private readonly kept = new Map<string, Kept>();

  constructor(estimates: Estimates) {
    this.estimates = estimates;
  }

  /** The numbers worked out last, perhaps of older files; from now on the route's numbers are kept up to date. */
  of(project: Project): Numbers | undefined {
    this.wanted.add(project.route.uri);
    return this.kept.get(project.route.uri)?.numbers;
  }

  /** Those of these routes that are looked at and whose numbers are out of date. */
  stale(projects: readonly Project[]): readonly Project[] {
    return projects.filter((project) => {
      if (!this.wanted.has(project.route.uri)) return false;
      const kept = this.kept.get(project.route.uri);
      if (kept && problemsOf(project) > kept.problems) return false;
      const input = this.input(project);
      return input ? kept?.key !== keyOf(input) : kept !== undefined;
    });
  }

  /** Works a route's numbers out. It may take a second; `pause` is awaited in between, and where it says no, it stops. */
  async work(project: Project, pause: () => Promise<boolean>): Promise<boolean> {
    const { uri } = project.route;
    const input = this.input(project);
    if (!input) return this.kept.delete(uri);
    const cache = this.estimates.cache(project);
    this.count++;
    const ranking = rank(input, cache);
    if (!(await pause())) return false;
    const assessed = assess(input, cache, new Set(project.techniques.keys()));
    if (!(await pause())) return false;
    const { segments } = breakdown(input, [], cache);
    this.kept.set(uri, {
      key: keyOf(input),
      problems: problemsOf(project),
      numbers: {
        ranked: new Map(ranking.rows.map((row, index) => [row.technique, { row, place: index + 1 }])),
        assessed: new Map(assessed),
        segments: new Map(segments.map(({ segment, seconds }) => [segment, seconds])),
        states: input.states,
        uses: new Map(
          project.segments.map(({ id, uses }) => [id, [...new Set(uses.map(({ technique }) => technique))]]),
        ),
        names: namesOf(project),
      },
    });
    return true;
  }

  /** Lets go of everything that belongs to routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const uri of [...this.kept.keys()]) if (!present.has(uri)) this.kept.delete(uri);
    for (const uri of [...this.wanted]) if (!present.has(uri)) this.wanted.delete(uri);
  }

  /** Undefined where several runners are named: a number needs one. */
  private input(project: Project): Input | undefined {
    const own = ownPart(project);
    if ('runners' in own) return undefined;
    return this.estimates.question(project, own);
  }
}

type Input = ReturnType<Estimates['question']>;

/** The numbers of a question as text: equal texts have equal answers. */
function keyOf({ route, logs, asOfDay, options, constants }: Input): string {
  return JSON.stringify([route, logs, asOfDay, options, constants]);
}

function problemsOf(project: Project): number {
  return filesOf(project).reduce((sum, { reading }) => sum + reading.problems.length, 0);
}
