/** Runners who land by luck only for a long while and then come to it within an evening or two. */
import type { Chance } from '../random.ts';
import type { Skill } from '../world.ts';
import { byAttempts, drawWays, unevenDays } from './attempts.ts';
import type { Truth } from './truth.ts';

export function plateau(skills: readonly Skill[], random: Chance): Truth {
  const ways = drawWays(random);
  const learnings = skills.map((skill) => {
    const stuck = 60 * ways.slowness * Math.exp(0.5 * (skill.difficulty - 1) + 0.8 * random.normal());
    const lucky = random.between(0, 0.06);
    const ceiling = random.between(0.6, 0.98);
    const scale = stuck * random.between(0.08, 0.25);
    const rateAt = (attempts: number): number =>
      attempts < stuck ? lucky : ceiling - (ceiling - lucky) * Math.exp(-(attempts - stuck) / scale);
    return byAttempts(rateAt, ways, random);
  });
  return { learnings, dayShift: unevenDays };
}
