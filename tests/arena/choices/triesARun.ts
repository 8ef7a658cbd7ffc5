/** How often a run tries a technique in expectation. */
import type { World } from '../world.ts';
import { landsInPlace, triesInPlace } from './effect.ts';
import { itemLinks, plainChoice } from './skillChoice.ts';
import type { Tonight } from './tonight.ts';

/**
 * Tries of a technique in a run, by itself, with its further tries, and as a backup.
 *
 * @param reached chance that a run reaches each segment
 * @param rateOf landing rate in runs
 */
export function triesARun(
  world: World,
  reached: readonly number[],
  { main, withBackup }: Tonight,
  rateOf: (skill: number) => number,
  skill: number,
): number {
  const { skills, choices } = world;
  const choiceOf = (i: number) => choices?.[i] ?? plainChoice;
  /** How often a run comes to the place of a technique, with the item that it needs. */
  const tried = (i: number): number => {
    const { needsItem } = choiceOf(i);
    const comes = skills[i]!.segments.reduce((sum, s) => sum + reached[s]!, 0);
    if (needsItem === null) return comes;
    const { taker } = itemLinks(choices!).get(needsItem)!;
    return comes * landsInPlace(skills[taker]!, choiceOf(taker), rateOf(taker));
  };
  let tries = main(skill) ? tried(skill) * triesInPlace(skills[skill]!, choiceOf(skill), rateOf(skill)) : 0;
  choices?.forEach(({ backup }, i) => {
    if (backup?.skill !== skill || !main(i) || !withBackup(i)) return;
    tries += tried(i) * (1 - landsInPlace(skills[i]!, choiceOf(i), rateOf(i)));
  });
  return tries;
}
