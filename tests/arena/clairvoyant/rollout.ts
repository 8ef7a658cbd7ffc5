/** What a plan of four weeks comes to in expectation, and what a change of it changes. */
import { techniquesTogether } from '../choices/together.ts';
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
  /** Each technique with all that hangs on it. */
  private readonly dependants: readonly ReadonlySet<number>[];
  private readonly groups: readonly (readonly number[])[];
  private readonly rates: Float64Array;

  constructor(world: World, secret: Secret) {
    this.world = world;
    this.secret = secret;
    this.steps = expectedDays(world, secret);
    this.worth = worthOf(world);
    this.rates = new Float64Array(world.skills.length);
    this.groups = techniquesTogether(world);
    this.dependants = world.skills.map((_, root) => this.hangingOn(root));
  }

  /** A technique, what is followed together with it, what needs one of these, and so on. */
  private hangingOn(root: number): Set<number> {
    const hang = new Set([root]);
    for (const one of hang) {
      for (const group of this.groups) if (group.includes(one)) for (const i of group) hang.add(i);
      this.world.skills.forEach(({ needs }, i) => {
        if (needs.includes(one)) hang.add(i);
      });
    }
    return hang;
  }

  of(plan: Plan): Rolled {
    const paths = this.follow([...this.world.skills.keys()], plan, [], 0);
    const mornings = new Float64Array(days + 1);
    return this.rolled(plan, paths, mornings, 0);
  }

  /** What a changed plan comes to: another in the blocks of some techniques, from a day on. */
  changed(before: Rolled, plan: Plan, skills: readonly number[], from: number): Rolled {
    const hang = new Set(skills.flatMap((i) => [...this.dependants[i]!]));
    const paths = this.follow([...hang], plan, before.paths, from);
    return this.rolled(plan, paths, before.mornings.slice(), from);
  }

  /** The paths with those of some techniques followed anew from a day on; all that hangs on one of these is among them. */
  private follow(skills: readonly number[], plan: Plan, before: readonly Path[], from: number): Path[] {
    const { learnings } = this.secret.truth;
    const paths = [...before];
    const anew = new Set(skills);
    const groups = this.groups.filter(([first]) => anew.has(first!));
    const now: Stand[] = [];
    const stands: Stand[][] = [];
    for (const i of skills) {
      const old = before[i];
      stands[i] = old?.stands.slice(0, from + 1) ?? [this.steps.start(i)];
      now[i] = stands[i][from]!;
      paths[i] = {
        stands: stands[i],
        practice: old?.practice.slice() ?? new Float64Array(days + 1),
        runs: old?.runs.slice() ?? new Float64Array(days + 1),
      };
    }
    for (let d = from; d <= days; d++) {
      for (const i of skills) {
        const { practice, runs } = paths[i]!;
        stands[i]![d] = now[i]!;
        practice[d] = learnings[i]!.rate(now[i]!.at);
        runs[d] = inRun(learnings[i]!, now[i]!.at);
      }
      if (d === days) break;
      const needRate = (need: number): number => paths[need]!.practice[d]!;
      const today = plan[d]!;
      today.forEach((i, block) => {
        if (!anew.has(i)) return;
        const earlier = today.slice(0, block).filter((one) => one === i).length;
        now[i] = this.steps.block(i, now[i]!, d, earlier, needRate);
      });
      for (const group of groups) {
        const after = this.steps.evening(group, now, d);
        group.forEach((i, n) => {
          now[i] = this.steps.night(i, after[n]!, d);
        });
      }
    }
    return paths;
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
