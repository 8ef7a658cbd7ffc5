/** What trying a technique in one place comes to, with its further tries and its backup. */
import type { Skill } from '../world.ts';
import type { Backup, SkillChoice } from './skillChoice.ts';

/** Chances, and seconds saved times their chance; negative where trying costs time. */
export interface Effect {
  /** The technique itself lands, at one of its tries. */
  readonly lands: number;
  readonly landedSaves: number;
  /** It does not, and the run goes on. */
  readonly misses: number;
  readonly missedSaves: number;
}

/**
 * The effect at these landing rates, 0 to 1.
 *
 * @param backup tried after the last miss, with its landing rate; null: none is
 */
export function effectOf(
  { saves, loses, endsRun }: Skill,
  { tries, retrySeconds, costs }: SkillChoice,
  rate: number,
  backup: { readonly numbers: Backup; readonly rate: number } | null,
): Effect {
  let [lands, landedSaves, left] = [0, 0, 1];
  let spent = costs;
  for (let n = 0; n < tries; n++) {
    if (n > 0) spent += retrySeconds;
    lands += left * rate;
    landedSaves += left * rate * (saves - spent);
    left *= 1 - rate;
    if (endsRun) return { lands, landedSaves, misses: 0, missedSaves: 0 };
  }
  const then =
    backup === null ? 0 : backup.rate * backup.numbers.saves - (1 - backup.rate) * backup.numbers.loses;
  return { lands, landedSaves, misses: left, missedSaves: left * (then - loses - spent) };
}

/** Mean seconds saved by a try that the run survives. */
export function meanSaves({ lands, landedSaves, misses, missedSaves }: Effect): number {
  const survives = lands + misses;
  return survives > 0 ? (landedSaves + missedSaves) / survives : 0;
}

/** Chance that the technique itself lands in a place, further tries included. */
export function landsInPlace({ endsRun }: Skill, { tries }: SkillChoice, rate: number): number {
  return 1 - (1 - rate) ** (endsRun ? 1 : tries);
}

/** Mean number of tries in a place. */
export function triesInPlace({ endsRun }: Skill, { tries }: SkillChoice, rate: number): number {
  let sum = 1;
  for (let n = 1; n < (endsRun ? 1 : tries); n++) sum += (1 - rate) ** n;
  return sum;
}
