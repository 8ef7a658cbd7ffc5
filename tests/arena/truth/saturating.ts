/** Runners who close the gap to a ceiling by the same share with each attempt: a saturating exponential. */
import type { Chance } from '../random.ts';
import type { Skill } from '../world.ts';
import { byAttempts, drawWays, unevenDays } from './attempts.ts';
import type { Truth } from './truth.ts';

export function saturating(skills: readonly Skill[], random: Chance): Truth {
  const ways = drawWays(random);
  const learnings = skills.map((skill) => {
    const scale = 40 * ways.slowness * Math.exp(0.5 * (skill.difficulty - 1) + 0.8 * random.normal());
    const start = random.between(0, 0.15);
    const ceiling = random.between(0.5, 1);
    const rateAt = (attempts: number): number => ceiling - (ceiling - start) * Math.exp(-attempts / scale);
    return byAttempts(rateAt, ways, random);
  });
  return { learnings, dayShift: unevenDays };
}
