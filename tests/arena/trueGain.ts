/** What blocks of one technique really gain a runner. */
import type { Runner } from './simulate.ts';
import { inRun } from './truth/truth.ts';
import type { Progress } from './truth/truth.ts';
import { attemptsInBlock } from './world.ts';
import { worthOf } from './worth.ts';

/** Attempts of a block as a share of those that fit, on average: `blockOf` draws them from 0.85 to 1.05. */
const attemptsOfBlock = 0.95;

/** A difference of two values of V below this is none, seconds: rounding. */
const noDifference = 1e-9;

/**
 * Seconds by which one block a day of a technique for so many days lowers V, against none of it on the same days, both on the
 * morning after the last night. The technique is tried where it pays, and of the others those that are in the run, at their true
 * rates now. Its needs are taken to be met, as a ranking takes them.
 *
 * @param at where every technique stands
 * @param inRunNow whether a technique is in the run
 */
export function trueGain(
  { world, truth }: Runner,
  at: readonly Progress[],
  inRunNow: (skill: number) => boolean,
  skill: number,
  blocks: number,
): number {
  const learning = truth.learnings[skill]!;
  const attempts = attemptsOfBlock * attemptsInBlock(world, world.skills[skill]!);
  let [practised, idle] = [at[skill]!, at[skill]!];
  for (let block = 0; block < blocks; block++) {
    practised = learning.night(learning.practise(practised, attempts, world.blockMinutes));
    idle = learning.night(idle);
  }
  const worth = worthOf(world);
  const rates = at.map((progress, i) => (inRunNow(i) ? inRun(truth.learnings[i]!, progress) : 0));
  const gain =
    worth(rates.with(skill, inRun(learning, idle))) - worth(rates.with(skill, inRun(learning, practised)));
  return Math.abs(gain) < noDifference ? 0 : gain;
}
