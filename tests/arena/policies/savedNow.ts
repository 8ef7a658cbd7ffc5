/** What learning a technique would save in a run, as a runner reckons it by hand. */
import { itemLinks } from '../choices/skillChoice.ts';
import type { Skill, World } from '../world.ts';
import { recentRate } from './policy.ts';
import type { Tally, View } from './policy.ts';

/** Seconds that a technique saves where it stands alone. */
export const saved = (skill: Skill): number => skill.saves * skill.segments.length;

/** What a runner knows of the other techniques: whether each is learned by the rule that is followed, and its counts. */
interface Known {
  readonly world: World;
  readonly view: View;
  readonly learned: (skill: number) => boolean;
}

/**
 * Seconds that learning each technique would add to what is saved already. Where the other one at its spot is learned, only what it
 * saves more counts, and where its backup is, only what it saves more than a miss with the backup; as a backup it saves where what it
 * follows misses; what takes an item opens the uses that are learned, and costs its seconds. One that needs an item counts in full
 * before the item is taken: the rules practise what takes it first ({@link takerByHand}).
 *
 * @param learned whether a technique counts as learned by the rule that is followed
 */
export function savedNow(
  world: World,
  view: View,
  learned: (skill: number) => boolean,
): (skill: number) => number {
  const { choices } = world;
  if (choices === undefined) return (skill) => saved(world.skills[skill]!);
  const known: Known = { world, view, learned };
  return (skill) => {
    const { mate } = choices[skill]!;
    const own = savedBySelf(known, skill);
    const more = mate !== null && learned(mate) ? Math.max(0, own - savedBySelf(known, mate)) : own;
    return more + savedAsBackup(known, skill);
  };
}

/** At its own places, the other one at its spot being left out of account. */
function savedBySelf({ world, learned }: Known, skill: number): number {
  const { backup, mate, takes, costs } = world.choices![skill]!;
  const { saves, loses, segments } = world.skills[skill]!;
  const hasBackup = backup !== null && backup.skill !== mate && learned(backup.skill);
  const rest = hasBackup ? Math.max(0, backup.saves - loses) : 0;
  const users = takes === null ? [] : itemLinks(world.choices!).get(takes)!.users;
  const opens = users.filter(learned).reduce((sum, user) => sum + saved(world.skills[user]!), 0);
  return (saves - rest - costs) * segments.length + opens;
}

/** After the misses of what it follows, where that is learned. */
function savedAsBackup({ world, view, learned }: Known, skill: number): number {
  let sum = 0;
  world.choices!.forEach(({ backup }, i) => {
    if (backup?.skill !== skill || !learned(i)) return;
    sum += missShare(view.tallies[i]!) * backup.saves * world.skills[i]!.segments.length;
  });
  return sum;
}

function missShare(tally: Tally): number {
  return 1 - (recentRate(tally) ?? 1);
}

/** What takes the item without which a technique cannot be tried in a run; null where it needs none. */
export function takerByHand({ choices }: World, skill: number): number | null {
  const item = choices?.[skill]!.needsItem ?? null;
  return item === null ? null : choices!.findIndex(({ takes }) => takes === item);
}
