/** The places of a route where something is tried, sorted by how it is decided what is played there. */
import type { World } from '../world.ts';
import { itemLinks } from './skillChoice.ts';

/** One way to play a place: a technique, with or without its backup after the last miss. */
export interface Option {
  readonly skill: number;
  readonly withBackup: boolean;
  /** Bit of the item that it picks up; 0 for none. */
  readonly gives: number;
}

/** A spot, or the use of a technique without one: at most one of the options is played. */
export interface Place {
  readonly segment: number;
  /** Options that end no run and take no item. */
  readonly plain: readonly Option[];
  /** Options that end no run and take an item, those of each technique together. */
  readonly taking: readonly (readonly Option[])[];
  /** Options a miss of which ends the run. */
  readonly ending: readonly Option[];
  /** Bit of the item without which nothing is tried here; 0 for none. */
  readonly needs: number;
}

export interface Places {
  /** Nothing ends the run and no item plays a part: what saves most seconds is best, whatever else is played. */
  readonly simple: readonly Place[];
  /** Needs an item, and nothing ends the run: what saves most is best wherever the item is held. */
  readonly withItem: readonly Place[];
  /** All others, in groups: one group's places hang together by an item. */
  readonly open: readonly (readonly Place[])[];
  /** Number of sets of items. */
  readonly sets: number;
}

/** Throws where the techniques of one spot need an item: what is played without it would not be said. */
export function placesOf(world: World): Places {
  const { skills, segments } = world;
  const choices = world.choices!;
  const links = itemLinks(choices);
  const bits = new Map([...links.keys()].map((item, i) => [item, 1 << i]));
  const bitOf = (item: string | null): number => (item === null ? 0 : bits.get(item)!);
  const simple: Place[] = [];
  const withItem: Place[] = [];
  const groups = new Map<number, Place[]>();
  let alone = 0;
  const open = (place: Place, items: number): void => {
    // Groups that have an item in common become one. A place without items is a group of its own.
    const together = [...groups].filter(([key]) => key > 0 && (key & items) !== 0);
    for (const [key] of together) groups.delete(key);
    const key = together.reduce((all, [one]) => all | one, items);
    groups.set(key === 0 ? -++alone : key, [...together.flatMap(([, places]) => places), place]);
  };
  segments.forEach((_, segment) => {
    [...skills.keys()].forEach((i) => {
      const { mate, needsItem } = choices[i]!;
      if (!skills[i]!.segments.includes(segment) || (mate !== null && mate < i)) return;
      const here = mate === null ? [i] : [i, mate];
      if (here.length > 1 && here.some((skill) => choices[skill]!.needsItem !== null))
        throw new Error('A technique at a shared spot needs an item');
      const options = here.flatMap((skill): Option[] => {
        const without = { skill, withBackup: false, gives: bitOf(choices[skill]!.takes) };
        return choices[skill]!.backup === null ? [without] : [without, { ...without, withBackup: true }];
      });
      const ends = ({ skill }: Option): boolean => skills[skill]!.endsRun;
      const place: Place = {
        segment,
        plain: options.filter((option) => !ends(option) && option.gives === 0),
        taking: here
          .map((skill) => options.filter((one) => one.skill === skill && !ends(one) && one.gives > 0))
          .filter((own) => own.length > 0),
        ending: options.filter(ends),
        needs: bitOf(needsItem),
      };
      const items = options.reduce((all, { gives }) => all | gives, place.needs);
      const isPlain = place.plain.length === options.length;
      if (isPlain) (place.needs === 0 ? simple : withItem).push(place);
      else open(place, items);
    });
  });
  return { simple, withItem, open: [...groups.values()], sets: 1 << links.size };
}
