/** Techniques that have to be followed together, because what is tried of one hangs on how the others stand. */
import type { World } from '../world.ts';
import { itemLinks } from './skillChoice.ts';

/**
 * The techniques in groups: those of one spot, a backup with what it follows, an item's taker with those that need it. Each
 * group in rising order; without choices every technique is a group of its own.
 */
export function techniquesTogether({ skills, choices }: World): readonly (readonly number[])[] {
  const groupOf = skills.map((_, i) => [i]);
  const join = (a: number, b: number): void => {
    const [into, from] = [groupOf[a]!, groupOf[b]!];
    if (into === from) return;
    for (const i of from) groupOf[i] = into;
    into.push(...from);
  };
  choices?.forEach(({ mate, backup }, i) => {
    if (mate !== null) join(i, mate);
    if (backup !== null) join(i, backup.skill);
  });
  if (choices !== undefined)
    for (const { taker, users } of itemLinks(choices).values()) for (const user of users) join(taker, user);
  return [...new Set(groupOf)].map((group) => group.sort((a, b) => a - b));
}
