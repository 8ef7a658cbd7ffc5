/** One runner of one kind under every policy: the unit of work that is handed to a process. */
import { policies, reference } from './policies/policies.ts';
import { seedOf } from './random.ts';
import { createRunner, simulate } from './simulate.ts';
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

/** Shares of what the reference gained, by the title of the policy. */
export interface Result {
  readonly kind: string;
  readonly runner: number;
  readonly shares: Readonly<Record<string, { readonly area: number; readonly final: number }>>;
}

/** A runner whom even the reference gains less than this share of a second has nothing to compare. */
const leastGain = 0.5;

/** Runs one task; null where nothing can be gained in that world. */
export function perform(task: Task): Result | null {
  const kind = kinds[task.kind];
  if (kind === undefined) return null;
  const runner = createRunner(kind, seedOf(task.seed, task.runner), task.knownShare);
  const best = simulate(runner, reference);
  if (best.area < leastGain) return null;
  const shares: Record<string, { area: number; final: number }> = {};
  for (const title of task.policies) {
    const policy = policies[title];
    if (policy === undefined) continue;
    const { area, final } = simulate(runner, policy);
    shares[title] = { area: area / best.area, final: final / best.final };
  }
  return { kind: task.kind, runner: task.runner, shares };
}
