/** Better plans from a plan: blocks are exchanged while the area under the true gain rises. */
import { chance } from '../random.ts';
import type { Chance } from '../random.ts';
import { mostADay } from '../policies/policy.ts';
import type { World } from '../world.ts';
import type { Rolled, Rollout } from './rollout.ts';

/** A change of a plan: the techniques whose blocks it moves, and the first day it touches. */
interface Change {
  readonly plan: number[][];
  readonly skills: readonly number[];
  readonly from: number;
}

/** One exchange at random; `likely` are the techniques that mostly come in. */
function exchange(
  { plan }: Rolled,
  sessions: readonly number[],
  random: Chance,
  likely: readonly number[],
  skills: number,
): Change {
  const next = plan.map((blocks) => [...blocks]);
  const d = sessions[random.whole(0, sessions.length - 1)]!;
  const slot = random.whole(0, next[d]!.length - 1);
  const old = next[d]![slot]!;
  const other = sessions[random.whole(0, sessions.length - 1)]!;
  const otherSlot = random.whole(0, next[other]!.length - 1);
  const fromPlan = next[other]![otherSlot]!;
  const draw = random.next();
  const fresh =
    draw < 0.4
      ? fromPlan
      : draw < 0.85
        ? likely[random.whole(0, likely.length - 1)]!
        : random.whole(0, skills - 1);
  const kind = random.next();
  if (kind < 0.35) {
    next[d]![slot] = fresh;
    return { plan: next, skills: [old, fresh], from: d };
  }
  if (kind < 0.6) {
    next[d]![slot] = fromPlan;
    next[other]![otherSlot] = old;
    return { plan: next, skills: [old, fromPlan], from: Math.min(d, other) };
  }
  // From this session on, some or all blocks of one technique go to another.
  let left = random.whole(1, 8);
  for (const day of sessions) {
    if (day < d) continue;
    next[day] = next[day]!.map((i) => (i === old && left-- > 0 ? fresh : i));
  }
  return { plan: next, skills: [old, fresh], from: d };
}

/**
 * The plan after so many exchanges, each kept where it costs no area and no rule: an hour a day of one technique, and no more
 * blocks than before of techniques whose needs are not ready.
 *
 * @param likely techniques that are likely to be worth practising
 */
export function improve(
  world: World,
  rollout: Rollout,
  start: Rolled,
  likely: readonly number[],
  { exchanges, seed }: { readonly exchanges: number; readonly seed: number },
): Rolled {
  const sessions = start.plan.flatMap((blocks, d) => (blocks.length > 0 ? [d] : []));
  if (sessions.length === 0) return start;
  const random = chance(seed);
  const most = mostADay(world);
  let best = start;
  for (let step = 0; step < exchanges; step++) {
    const { plan, skills, from } = exchange(best, sessions, random, likely, world.skills.length);
    if (skills[0] === skills[1]) continue;
    const tooMany = (blocks: readonly number[], skill: number): boolean =>
      blocks.reduce((count, i) => count + (i === skill ? 1 : 0), 0) > most;
    if (plan.some((blocks) => skills.some((skill) => tooMany(blocks, skill)))) continue;
    const now = rollout.changed(best, plan, skills, from);
    if (now.total <= best.total && now.tooEarly <= best.tooEarly) best = now;
  }
  return best;
}
