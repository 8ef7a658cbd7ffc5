/** An evening of runs: what is tried in them, and what lands. */
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
  tried: (skill: number) => boolean,
  rateOf: (skill: number) => number,
  seed: number,
): { landed: number; tries: number }[] {
  const random = chance(seed);
  const counts = world.skills.map(() => ({ landed: 0, tries: 0 }));
  const inSegment = world.segments.map((_, s) =>
    [...world.skills.keys()].filter((i) => world.skills[i]!.segments.includes(s) && tried(i)),
  );
  for (let run = 0; run < started; run++) {
    let alive = true;
    for (let s = 0; s < inSegment.length && alive; s++) {
      for (const i of inSegment[s]!) {
        const lands = random.next() < rateOf(i);
        counts[i]!.tries++;
        if (lands) counts[i]!.landed++;
        else if (world.skills[i]!.endsRun) {
          alive = false;
          break;
        }
      }
      alive &&= random.next() < world.segments[s]!.survive && random.next() > resetChance;
    }
  }
  return counts;
}

/**
 * Whether a runner tries a technique in tonight's runs: it landed above break-even, by the runner's own counts, in
 * the last two evenings or the last practice. The same rule for every policy, so that none gains by it, and by
 * counts alone, so that being tried in runs gives nobody a hint of the true rate.
 */
export function triesTonight(tally: Pick<Tally, 'blocks' | 'runs'>, edge: number, known: boolean): boolean {
  const lately = tally.runs.slice(-2);
  const tries = lately.reduce((sum, run) => sum + run.tries, 0);
  const landed = lately.reduce((sum, run) => sum + run.landed, 0);
  const practice = recentRate(tally);
  if (practice === null && tries === 0) return known;
  const weight = 6;
  const rate = practice === null ? landed / tries : (landed + weight * practice) / (tries + weight);
  return rate >= edge;
}
