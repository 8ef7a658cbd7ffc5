/** One runner of one kind under every policy: the unit of work that is handed to a process. */
import { referenceOf } from './clairvoyant/reference.ts';
import type { Reference } from './clairvoyant/reference.ts';
import type { Plan } from './clairvoyant/rollout.ts';
import { policies } from './policies/policies.ts';
import type { MakePolicy } from './policies/policy.ts';
import { seedOf } from './random.ts';
import { createRunner, simulate } from './simulate.ts';
import type { Outcome, Runner } from './simulate.ts';
import { kinds } from './truth/kinds.ts';

export interface Task {
  readonly kind: string;
  /** Number of the runner, from 0. */
  readonly runner: number;
  readonly seed: number;
  readonly knownShare: number;
  /** Titles of the policies to follow; the reference is always added. */
  readonly policies: readonly string[];
}

/** What came of each policy, by its title, and what it is measured against. */
export interface Result {
  readonly kind: string;
  readonly runner: number;
  readonly best: Reference;
  readonly outcomes: Readonly<Record<string, Outcome>>;
}

/** What came of a policy, and the plan that its runner followed. */
export function followed(
  runner: Runner,
  policy: MakePolicy,
): { readonly plan: Plan; readonly outcome: Outcome } {
  const plan: number[][] = runner.world.days.map(() => []);
  const outcome = simulate(runner, (...given) => {
    const { choose, learned } = policy(...given);
    return {
      ...(learned !== undefined && { learned }),
      choose: (view) => (plan[view.day] = choose(view).slice(0, view.blocks)),
    };
  });
  return { plan, outcome };
}

/** Runs one task. */
export function perform(task: Task): Result {
  const { kind, runner: number } = task;
  const runner = createRunner(kinds[kind]!, seedOf(task.seed, number), task.knownShare);
  const all = task.policies.map((title) => [title, followed(runner, policies[title]!)] as const);
  return {
    kind,
    runner: number,
    best: referenceOf(
      runner,
      all.map(([, one]) => one),
    ),
    outcomes: Object.fromEntries(all.map(([title, { outcome }]) => [title, outcome])),
  };
}
