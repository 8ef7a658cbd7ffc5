/** What a runner plays in an evening's runs, by the counts of that runner alone. */
import { countedRate, triesTonight } from '../evening.ts';
import type { Tally } from '../policies/policy.ts';
import type { World } from '../world.ts';
import { effectOf, landsInPlace } from './effect.ts';
import { itemLinks } from './skillChoice.ts';
import type { ItemLinks, SkillChoice } from './skillChoice.ts';

/** What is tried in an evening's runs. */
export interface Tonight {
  /** Whether a technique is tried by itself. */
  readonly main: (skill: number) => boolean;
  /** Whether its backup follows its last miss. */
  readonly withBackup: (skill: number) => boolean;
  /** Whether it is tried in any way, by itself or as a backup. */
  readonly inRun: (skill: number) => boolean;
}

/** The runner's own counts of a technique. */
export type CountsOf = (skill: number) => Pick<Tally, 'blocks' | 'runs'>;

/** Landing rate at which a runner puts a technique that was learned long ago and not counted since. */
const rememberedRate = 0.75;

/**
 * Says what is played by the counts of an evening; the same rule for every policy. Each technique is tried that pays by the counts.
 * An item is taken, too, where that costs less than what it opens saves; of two at a spot the one is tried with the greater counted
 * rate times what it saves; and a backup follows where it pays.
 *
 * @param edges least landing rate at which each technique pays by itself
 */
export function createTonight(world: World, edges: readonly number[]): (countsOf: CountsOf) => Tonight {
  const { choices } = world;
  const pays = (i: number, countsOf: CountsOf): boolean =>
    triesTonight(countsOf(i), edges[i]!, world.skills[i]!.known);
  if (choices === undefined)
    return (countsOf) => {
      const main = (i: number): boolean => pays(i, countsOf);
      return { main, withBackup: () => false, inRun: main };
    };
  const links = itemLinks(choices);
  const backedUp = world.skills.map((_, b) =>
    [...choices.keys()].filter((i) => choices[i]!.backup?.skill === b),
  );
  return (countsOf) => {
    const rateOf = (i: number): number =>
      countedRate(countsOf(i)) ?? (world.skills[i]!.known ? rememberedRate : 0);
    const counted: Counted = { world, choices, links, rateOf, pays: (i) => pays(i, countsOf) };
    const main = (i: number): boolean => isMain(counted, i);
    const withBackup = (i: number): boolean => {
      const { backup } = choices[i]!;
      return backup !== null && rateOf(backup.skill) >= backup.loses / (backup.saves + backup.loses);
    };
    const inRun = (i: number): boolean =>
      main(i) || backedUp[i]!.some((before) => main(before) && withBackup(before));
    return { main, withBackup, inRun };
  };
}

interface Counted {
  readonly world: World;
  readonly choices: readonly SkillChoice[];
  readonly links: ReadonlyMap<string, ItemLinks>;
  readonly rateOf: (skill: number) => number;
  readonly pays: (skill: number) => boolean;
}

/** Seconds that trying a technique saves on average, without its backup. */
function savesByCounts({ world, choices, rateOf }: Counted, skill: number): number {
  const effect = effectOf(world.skills[skill]!, choices[skill]!, rateOf(skill), null);
  return effect.landedSaves + effect.missedSaves;
}

/** Seconds that an item opens in later places where what needs it pays. */
function opened(counted: Counted, skill: number): number {
  const { world, choices, links, pays } = counted;
  const { takes } = choices[skill]!;
  if (takes === null) return 0;
  return links
    .get(takes)!
    .users.filter(pays)
    .reduce((sum, user) => sum + world.skills[user]!.segments.length * savesByCounts(counted, user), 0);
}

/** Whether a technique pays by the counts, with the item that it takes and apart from the other one at its spot. */
function paysWithItem(counted: Counted, skill: number): boolean {
  const { world, choices, rateOf, pays } = counted;
  if (pays(skill)) return true;
  if (choices[skill]!.takes === null || world.skills[skill]!.endsRun) return false;
  const lands = landsInPlace(world.skills[skill]!, choices[skill]!, rateOf(skill));
  return savesByCounts(counted, skill) + lands * opened(counted, skill) > 0;
}

function isMain(counted: Counted, skill: number): boolean {
  const { world, choices, links, rateOf } = counted;
  const { mate, needsItem } = choices[skill]!;
  if (needsItem !== null && !isMain(counted, links.get(needsItem)!.taker)) return false;
  if (!paysWithItem(counted, skill)) return false;
  if (mate === null || !paysWithItem(counted, mate)) return true;
  const score = (i: number): number => rateOf(i) * (world.skills[i]!.saves + opened(counted, i));
  return score(skill) > score(mate) || (score(skill) === score(mate) && skill < mate);
}
