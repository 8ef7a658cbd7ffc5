/** What is certain about the set of the first session, and so about its later size; used for the upper bound. */
import {
  canItemEnter,
  itemRate,
  markReady,
  renewSet,
  stateAtStart,
  takesFreePlace,
} from './planSimulator.ts';
import type { PlanSimulator } from './planSimulator.ts';
import type { LevelDynamics } from './levelDynamics.ts';
import type { SetSizeRange } from './membershipGraph.ts';
import { competentEnters } from './practiceSet.ts';
import { membersAtStart } from './planProblem.ts';
import type { PlanProblem } from './planProblem.ts';
import { sessionLimits } from './sessions.ts';

/** The set of the first session. */
export interface FirstSession {
  /** By item: whether it was a member before and stays. */
  readonly stays: readonly boolean[];
  /** By item: whether it leaves because there are more members than places. */
  readonly leaves: readonly boolean[];
  /** By item: whether it may come in, on that day, to a free place. */
  readonly mayEnter: readonly boolean[];
  /** The smallest and largest number of members from then on. */
  readonly range: SetSizeRange;
}

/** The set of the first session as far as it is the same in every plan. `firstDay` is the day of that session. */
export function firstSession(
  problem: PlanProblem,
  { dynamics }: PlanSimulator,
  firstDay: number,
  size: number,
): FirstSession {
  const { items } = problem;
  const morning = stateAtStart(problem, dynamics);
  for (let d = 0; d <= firstDay; d++) {
    items.forEach((_, i) => (morning.level[i] = dynamics.idleLevels[i]![d]!));
    markReady(problem, morning);
  }
  // If nobody may enter, only those leave for whom there is no place.
  const { members, left } = renewSet(problem, membersAtStart(problem), [], size, morning);
  const stays = items.map((_, i) => members.includes(i));
  const leaves = items.map((_, i) => left.some(({ item }) => item === i));
  const outside = [...items.keys()].filter((i) => !stays[i]! && !leaves[i]!);
  const newcomers = outside.filter((i) => takesFreePlace(problem, i, morning));
  const free = size - members.length;
  const rates = newcomers.map((i) => itemRate(problem, i, morning)).sort((a, b) => b - a);
  // When a competent one comes in, at most one place less than all is taken by newcomers, so that the best of those
  // left outside gains at least this.
  const leastOutside = rates[Math.min(free, rates.length) - 1] ?? 0;
  const mayEnter = items.map((_, i) => {
    if (free <= 0 || !outside.includes(i) || !canItemEnter(problem, i, morning)) return false;
    return newcomers.includes(i) || competentEnters(itemRate(problem, i, morning), leastOutside);
  });
  const learners = members.filter((i) => !canBecomeCompetent(problem, dynamics, i)).length;
  // The set becomes smaller only while it has more members than places, and only by competent ones.
  const range = {
    fewest: Math.max(learners, Math.min(size, members.length + newcomers.length)),
    most: Math.max(size, members.length),
  };
  return { stays, leaves, mayEnter, range };
}

/** Whether an item can become competent within the plan, with as much practice as one technique may have. */
function canBecomeCompetent(
  { items, minutes }: PlanProblem,
  { start, next }: LevelDynamics,
  i: number,
): boolean {
  const { competentLevel, pinned } = items[i]!;
  let level = start[i]!;
  for (let d = 0; d < minutes.length && level < competentLevel; d++)
    level = next(i, d, level, minutes[d]! > 0 ? sessionLimits.onOne : 0);
  return !pinned && level >= competentLevel;
}
