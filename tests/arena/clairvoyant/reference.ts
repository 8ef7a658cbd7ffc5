/**
 * The reference: one who knows every true curve, and each slip, from the first day. Started from the true rankings and from
 * whatever anybody practised, each plan is improved by exchange until 20,000 more exchanges change less than 0.3 % of the
 * gain. What counts is the plan that did best among all of these, so nobody whose plan was a start can pass it.
 */
import type { MakePolicy, Policy } from '../policies/policy.ts';
import { seedOf } from '../random.ts';
import { simulate } from '../simulate.ts';
import type { Outcome, Runner } from '../simulate.ts';
import { improve } from './exchange.ts';
import { Rollout } from './rollout.ts';
import type { Plan, Rolled } from './rollout.ts';
import { byIndex, rankedAlike } from './truePlans.ts';

/** Exchanges that each start is given, then those after which it must hardly have gained, and how much that is. */
const first = 3000;
const more = 20_000;
const hardly = 0.003;

/** Starts that are improved to the end. */
const finalists = 2;

/** Follows a plan that was made beforehand. */
export function following(plan: Plan): Policy {
  return { choose: ({ day, blocks }) => plan[day]!.slice(0, blocks) };
}

/** The true ranking followed session by session. */
export const trueRanking: MakePolicy = (world, _seed, secret) => following(rankedAlike(world, secret));

/** The true ranking followed block by block. */
export const trueIndex: MakePolicy = (world, _seed, secret) => following(byIndex(world, secret));

/** What the reference gains, in seconds. */
export type Reference = Pick<Outcome, 'area' | 'final'>;

/**
 * What the reference gains from a runner's four weeks.
 *
 * @param followed plans that somebody followed, with what came of them
 */
export function referenceOf(
  runner: Runner,
  followed: readonly { readonly plan: Plan; readonly outcome: Reference }[],
): Reference {
  const { world } = runner;
  const rollout = new Rollout(world, runner);
  const ranked = [rankedAlike(world, runner), byIndex(world, runner)];
  const best = [...followed].sort((a, b) => b.outcome.area - a.outcome.area).slice(0, 2);
  const starts = [...ranked, ...best.map(({ plan }) => plan)];
  const likely = [...new Set(starts.flat(2))];
  // Without a plan nothing is gained; shares of the gain are counted from there.
  const idle = rollout.of(world.days.map(() => [])).total;
  const improved = (start: Rolled, exchanges: number, number: number): Rolled =>
    improve(world, rollout, start, likely, { exchanges, seed: seedOf(world.seed, 79, number) });
  const toTheEnd = (start: Rolled): Rolled => {
    for (let now = start, round = 1; ; round++) {
      const next = improved(now, more, round);
      if (now.total - next.total < hardly * (idle - next.total)) return next;
      now = next;
    }
  };
  const tried = starts.map((plan, i) => improved(rollout.of(plan), first, -i));
  const ended = tried
    .sort((a, b) => a.total - b.total)
    .slice(0, finalists)
    .map(toTheEnd);
  const outcomes: Reference[] = [
    ...followed.map(({ outcome }) => outcome),
    ...[...ranked, ...ended.map(({ plan }) => plan)].map((plan) => simulate(runner, () => following(plan))),
  ];
  return outcomes.reduce((a, b) => (b.area > a.area ? b : a));
}
