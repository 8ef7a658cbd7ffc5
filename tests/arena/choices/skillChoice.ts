/** What a route can say of a technique besides the seconds that it saves and loses. */
import type { UseModel } from '../../../server/src/model/index.ts';

/** Another technique that is tried at once, and once only, after the last miss. It does not end the run. */
export interface Backup {
  /** Number of the technique. */
  readonly skill: number;
  /** Seconds gained by landing it here, lost by missing it. */
  readonly saves: number;
  readonly loses: number;
}

/** Of one technique, the same wherever it is tried. */
export interface SkillChoice {
  /** Number of the other technique at its spot: a run plays at most one of the two. */
  readonly mate: number | null;
  readonly backup: Backup | null;
  /** Tries in all, and the seconds that each after the first costs. */
  readonly tries: number;
  readonly retrySeconds: number;
  /** The item that landing it picks up, and the seconds that trying to costs. */
  readonly takes: string | null;
  readonly costs: number;
  /** The item without which it cannot be tried. */
  readonly needsItem: string | null;
}

/** A technique of which the route says nothing more. */
export const plainChoice: SkillChoice = {
  mate: null,
  backup: null,
  tries: 1,
  retrySeconds: 0,
  takes: null,
  costs: 0,
  needsItem: null,
};

/** The numbers of the technique that takes an item, and of those that need it. */
export interface ItemLinks {
  readonly taker: number;
  readonly users: readonly number[];
}

/** Every item with who takes it and who needs it. Each is taken by one technique. */
export function itemLinks(choices: readonly SkillChoice[]): Map<string, ItemLinks> {
  const links = new Map<string, ItemLinks>();
  choices.forEach(({ takes }, taker) => {
    if (takes === null) return;
    const users = [...choices.keys()].filter((i) => choices[i]!.needsItem === takes);
    links.set(takes, { taker, users });
  });
  return links;
}

/** The part of a use that is written for these choices. */
export function writtenUse(
  choices: readonly SkillChoice[],
  skill: number,
  idOf: (skill: number) => string,
): Partial<UseModel> {
  const { mate, backup, tries, retrySeconds, takes, costs, needsItem } = choices[skill]!;
  return {
    maxTries: tries,
    retrySeconds,
    costs,
    ...(mate !== null && { spot: `at-${idOf(Math.min(skill, mate))}` }),
    ...(takes !== null && { take: takes }),
    ...(needsItem !== null && { with: needsItem }),
    ...(backup !== null && {
      backup: idOf(backup.skill),
      // What the other technique at the spot saves and loses there is written already, at its own use.
      ...(backup.skill !== mate && {
        backupUse: {
          saves: { mean: backup.saves, sd: 0 },
          misses: [{ chance: 1, loses: backup.loses, endsRun: false }],
        },
      }),
    }),
  };
}
