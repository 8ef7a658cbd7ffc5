import { formatTime } from '../../../text/time.ts';
import { fastestPlausibleRun } from '../../lookup/bestCase.ts';
import type { Rule } from '../../engine/rule.ts';
import { targetRef } from '../../lookup/targetRef.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';

/** A target that not even a run with everything landed would beat. */
export const targetOutOfReach: Rule = {
  code: 'target-out-of-reach',
  severity: 'warning',
  title: 'A target below the best run that the route allows.',
  page: {
    why: 'With this route the target is never beaten, so that the odds stay at 0 for anything you learn, and no reset line makes sense.',
    way: "Correct the target or the route's times, or add the techniques that are missing.",
    failing: { week: 'target: "2:30"\n' },
    passing: { week: 'target: "3:32"\n' },
  },
  check(context) {
    const target = targetRef(context);
    if (!target || context.project.segments.length === 0 || !declaredNames(context).isComplete) return [];
    const fastest = fastestPlausibleRun(context);
    if (target.seconds >= fastest) return [];
    const message = `With every technique landed this route takes about ${formatTime(fastest)} at the very best, and the target is ${formatTime(target.seconds)}. Correct one of the two, or add what is missing to the route.`;
    return [{ ...target.place, message }];
  },
};
