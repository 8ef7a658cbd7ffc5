/** What a plan of four weeks comes to in expectation, and what a change of it changes. */
import type { Secret } from '../policies/policy.ts';
import { inRun } from '../truth/truth.ts';
import { days } from '../world.ts';
import type { World } from '../world.ts';
import { worthOf } from '../worth.ts';
import { expectedDays } from './expectedDays.ts';
import type { ExpectedDays, Stand } from './expectedDays.ts';

/** For each day, the techniques of its blocks in order. */
export type Plan = readonly (readonly number[])[];

/** One technique on every morning under a plan: where it stands, and its rates in practice and in runs. */
export interface Path {
  readonly stands: readonly Stand[];
  readonly practice: Float64Array;
  readonly runs: Float64Array;
}

/** A plan with what it comes to. */
export interface Rolled {
  readonly plan: Plan;
  readonly paths: readonly Path[];
  /** V on each morning after the first, and their sum: what is to be made small. */
  readonly mornings: Float64Array;
  readonly total: number;
  /** Blocks of techniques with a need that lands less than half the time and was not learned before. */
  readonly tooEarly: number;
}

/** Least true rate in practice at which a need carries what stands on it. */
export const readyRate = 0.5;

export class Rollout {
  private readonly world: World;
  private readonly secret: Secret;
  private readonly steps: ExpectedDays;
  private readonly worth: (rates: ArrayLike<number>) => number;
  /** Each technique with all that hangs on it, in order. */
  private readonly dependants: readonly (readonly number[])[];
  private readonly rates: Float64Array;

  constructor(world: World, secret: Secret) {
    this.world = world;
    this.secret = secret;
    this.steps = expectedDays(world, secret);
    this.worth = worthOf(world);
    this.rates = new Float64Array(world.skills.length);
    // Needs come before what stands on them, so one pass in order finds all that hangs on a technique.
    this.dependants = world.skills.map((_, root) => {
      const hang = new Set([root]);
      world.skills.forEach((skill, i) => {
        if (skill.needs.some((need) => hang.has(need))) hang.add(i);
      });
      return [...hang];
    });
  }

  of(plan: Plan): Rolled {
    const paths: Path[] = [];
    this.world.skills.forEach((_, i) => paths.push(this.path(i, plan, paths, 0)));
    const mornings = new Float64Array(days + 1);
    return this.rolled(plan, paths, mornings, 0);
  }

  /** What a changed plan comes to: another in the blocks of some techniques, from a day on. */
  changed(before: Rolled, plan: Plan, skills: readonly number[], from: number): Rolled {
    const paths = [...before.paths];
    const hang = new Set(skills.flatMap((i) => this.dependants[i]!));
    for (const i of [...hang].sort((a, b) => a - b)) paths[i] = this.path(i, plan, paths, from, paths[i]);
    return this.rolled(plan, paths, before.mornings.slice(), from);
  }

  private path(skill: number, plan: Plan, paths: readonly Path[], from: number, before?: Path): Path {
    const learning = this.secret.truth.learnings[skill]!;
    const stands = before === undefined ? [this.steps.start(skill)] : before.stands.slice(0, from + 1);
    const practice = before?.practice.slice() ?? new Float64Array(days + 1);
    const runs = before?.runs.slice() ?? new Float64Array(days + 1);
    let stand = stands[from]!;
    for (let d = from; d <= days; d++) {
      stands[d] = stand;
      practice[d] = learning.rate(stand.at);
      runs[d] = inRun(learning, stand.at);
      if (d === days) break;
      let earlier = 0;
      for (const i of plan[d]!)
        if (i === skill)
          stand = this.steps.block(skill, stand, d, earlier++, (need) => paths[need]!.practice[d]!);
      stand = this.steps.rest(skill, stand, d);
    }
    return { stands, practice, runs };
  }

  private rolled(plan: Plan, paths: readonly Path[], mornings: Float64Array, from: number): Rolled {
    const { rates } = this;
    const runs = paths.map((path) => path.runs);
    for (let d = from + 1; d <= days; d++) {
      for (let i = 0; i < runs.length; i++) rates[i] = runs[i]![d]!;
      mornings[d] = this.worth(rates);
    }
    const total = mornings.reduce((sum, v) => sum + v, 0);
    return { plan, paths, mornings, total, tooEarly: this.tooEarly(plan, paths) };
  }

  private tooEarly(plan: Plan, paths: readonly Path[]): number {
    const { skills } = this.world;
    const waits = (i: number, d: number): boolean =>
      skills[i]!.needs.some((need) => !skills[need]!.known && paths[need]!.practice[d]! < readyRate);
    let count = 0;
    for (let d = 0; d < plan.length; d++) for (const i of plan[d]!) if (waits(i, d)) count++;
    return count;
  }
}
