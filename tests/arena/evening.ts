/** An evening of runs: what is tried in them, and what lands. */
import type { Tonight } from './choices/tonight.ts';
import { plainChoice } from './choices/skillChoice.ts';
import type { Tally } from './policies/policy.ts';
import { recentRate } from './policies/policy.ts';
import { chance } from './random.ts';
import type { World } from './world.ts';

/** Chance that a run is given up after a segment. */
export const resetChance = 0.04;

/** Tries of each technique in an evening of runs: a run goes on until it dies, is reset or is finished. */
export function evening(
  world: World,
  started: number,
  { main, withBackup }: Tonight,
  rateOf: (skill: number) => number,
  seed: number,
): { landed: number; tries: number }[] {
  const random = chance(seed);
  const counts = world.skills.map(() => ({ landed: 0, tries: 0 }));
  const inSegment = world.segments.map((_, s) =>
    [...world.skills.keys()].filter((i) => world.skills[i]!.segments.includes(s) && main(i)),
  );
  const lands = (i: number): boolean => {
    const landed = random.next() < rateOf(i);
    counts[i]!.tries++;
    if (landed) counts[i]!.landed++;
    return landed;
  };
  /** Whether the run goes on after a technique, with the items that it holds then. */
  const goesOn = (i: number, held: Set<string>): boolean => {
    const { tries, takes, needsItem, backup } = world.choices?.[i] ?? plainChoice;
    if (needsItem !== null && !held.has(needsItem)) return true;
    for (let n = 0; n < tries; n++) {
      if (lands(i)) {
        if (takes !== null) held.add(takes);
        return true;
      }
      if (world.skills[i]!.endsRun) return false;
    }
    if (backup !== null && withBackup(i)) lands(backup.skill);
    return true;
  };
  for (let run = 0; run < started; run++) {
    let alive = true;
    const held = new Set<string>();
    for (let s = 0; s < inSegment.length && alive; s++) {
      alive = inSegment[s]!.every((i) => goesOn(i, held));
      alive &&= random.next() < world.segments[s]!.survive && random.next() > resetChance;
    }
  }
  return counts;
}

/** Landing rate in runs by the runner's own counts of the last two evenings and the last practice; null without any. */
export function countedRate(tally: Pick<Tally, 'blocks' | 'runs'>): number | null {
  const lately = tally.runs.slice(-2);
  const tries = lately.reduce((sum, run) => sum + run.tries, 0);
  const landed = lately.reduce((sum, run) => sum + run.landed, 0);
  const practice = recentRate(tally);
  if (practice === null && tries === 0) return null;
  const weight = 6;
  return practice === null ? landed / tries : (landed + weight * practice) / (tries + weight);
}

/**
 * Whether a runner tries a technique in tonight's runs: it landed above break-even, by the runner's own counts, in
 * the last two evenings or the last practice. The same rule for every policy, so that none gains by it, and by
 * counts alone, so that being tried in runs gives nobody a hint of the true rate.
 */
export function triesTonight(tally: Pick<Tally, 'blocks' | 'runs'>, edge: number, known: boolean): boolean {
  const rate = countedRate(tally);
  return rate === null ? known : rate >= edge;
}
