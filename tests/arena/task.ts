/** One runner of one kind under every policy: the unit of work that is handed to a process. */
import { policies, reference } from './policies/policies.ts';
import { seedOf } from './random.ts';
import { createRunner, simulate } from './simulate.ts';
import type { Outcome } from './simulate.ts';
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

/** What came of each policy, by its title: gains as shares of what the reference gained, the rest as in the outcome. */
export interface Result {
  readonly kind: string;
  readonly runner: number;
  readonly outcomes: Readonly<Record<string, Outcome>>;
}

/** A runner whom even the reference gains less than this many seconds has nothing to compare. */
const leastGain = 0.5;

/** Runs one task; a result without policies where nothing can be gained in that world. */
export function perform(task: Task): Result {
  const { kind, runner: number } = task;
  const outcomes: Record<string, Outcome> = {};
  const result = { kind, runner: number, outcomes };
  const runner = createRunner(kinds[kind]!, seedOf(task.seed, number), task.knownShare);
  const best = simulate(runner, reference);
  if (best.area < leastGain) return result;
  for (const title of task.policies) {
    const outcome = simulate(runner, policies[title]!);
    outcomes[title] = { ...outcome, area: outcome.area / best.area, final: outcome.final / best.final };
  }
  return result;
}
