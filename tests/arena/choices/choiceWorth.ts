/** V of a world with spots, backups, retries and items, as a function of the landing rates in runs. */
import type { Worth } from '../worth.ts';
import type { World } from '../world.ts';
import { effectOf, meanSaves } from './effect.ts';
import { ExpectedRun } from './expectedRun.ts';
import type { Played } from './expectedRun.ts';
import { lowestByGroups, lowestOfAll } from './lowest.ts';
import { placesOf } from './places.ts';
import type { Option, Place } from './places.ts';

/** So many ways to play all open places are tried one by one; where there are more, group by group. */
const waysTried = 32;

/**
 * V where, of each spot, what is played, whether with its backup, and which items are taken, is chosen so that V is lowest. For one
 * world, written apart from the model.
 *
 * @param clockWeight worth of a second of clock time against a second of the finished run
 * @param mostTried most ways to play the open places that are tried one by one
 */
export function choiceWorth(world: World, clockWeight: number, mostTried = waysTried): Worth {
  const { skills } = world;
  const choices = world.choices!;
  const places = placesOf(world);
  const open = places.open.flat();
  let number = 0;
  const groups = places.open.map((group) => group.map(() => number++));
  const run = new ExpectedRun(world, places.sets, clockWeight);
  const survives = Float64Array.from(world.segments, ({ survive }) => survive);
  const times = Float64Array.from(world.segments, ({ time }) => time);
  const [usual, seconds, survival] = [times.slice(), times.slice(), times.slice()];
  const byItems = world.segments.map((): Played[] => []);
  const itemSegments = new Set([...places.withItem, ...open].map(({ segment }) => segment));
  const users: { readonly segment: number; readonly played: Played }[] = [];

  const playedAt = (place: Place, option: Option, rates: ArrayLike<number>): Played => {
    const { skill, withBackup, gives } = option;
    const numbers = withBackup ? choices[skill]!.backup : null;
    const backup = numbers === null ? null : { numbers, rate: rates[numbers.skill]! };
    const effect = effectOf(skills[skill]!, choices[skill]!, rates[skill]!, backup);
    return { effect, needs: place.needs, gives };
  };
  /** Of these options the one that saves most, where one saves more than `least` seconds. */
  const most = (
    place: Place,
    options: readonly Option[],
    rates: ArrayLike<number>,
    least = 0,
  ): Played | null => {
    let best: Played | null = null;
    let most = least;
    for (const option of options) {
      const played = playedAt(place, option, rates);
      const saves = meanSaves(played.effect);
      if (saves > most) [best, most] = [played, saves];
    }
    return best;
  };
  /**
   * The ways to play an open place of which one can be the best. Among options that neither end the run nor take an item, and of one
   * technique with and without its backup, what saves most is best; an item is never in the way, so one that costs nothing is taken.
   */
  const alternatives = (place: Place, rates: ArrayLike<number>): (Played | null)[] => {
    const plain = most(place, place.plain, rates);
    const ending = place.ending.map((option) => playedAt(place, option, rates));
    const taking = place.taking.map((options) => most(place, options, rates, -Infinity));
    const [first] = taking;
    const free =
      first && taking.length === 1 && meanSaves(first.effect) >= (plain ? meanSaves(plain.effect) : 0);
    return [...(free ? [] : [plain]), ...taking, ...ending];
  };
  const prepare = (rates: ArrayLike<number>): void => {
    usual.set(times);
    for (const place of places.simple) {
      const played = most(place, place.plain, rates);
      if (played !== null) usual[place.segment]! -= meanSaves(played.effect);
    }
    users.length = 0;
    for (const place of places.withItem) {
      const played = most(place, place.plain, rates);
      if (played !== null) users.push({ segment: place.segment, played });
    }
  };
  const worthOfPlayed = (chosen: readonly (Played | null)[]): number => {
    seconds.set(usual);
    survival.set(survives);
    for (const segment of itemSegments) byItems[segment]!.length = 0;
    for (let p = 0; p < open.length; p++) {
      const played = chosen[p]!;
      if (played === null) continue;
      const { segment } = open[p]!;
      if (played.gives === 0 && played.needs === 0) {
        seconds[segment]! -= meanSaves(played.effect);
        survival[segment]! *= played.effect.lands + played.effect.misses;
      } else byItems[segment]!.push(played);
    }
    for (const { segment, played } of users) byItems[segment]!.push(played);
    return run.worth(seconds, survival, byItems);
  };
  return (rates) => {
    prepare(rates);
    const ways = open.map((place) => alternatives(place, rates));
    const count = ways.reduce((product, { length }) => product * length, 1);
    return count <= mostTried
      ? lowestOfAll(ways, worthOfPlayed)
      : lowestByGroups(ways, groups, worthOfPlayed);
  };
}
