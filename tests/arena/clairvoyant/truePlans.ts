/** Plans of one who knows every true curve and ranks as the tool ranks. */
import { closedSets } from '../../../server/src/model/rank/closedSets.ts';
import { fill, mostADay } from '../policies/policy.ts';
import type { Secret } from '../policies/policy.ts';
import type { Learning, Progress } from '../truth/truth.ts';
import { blockOf } from '../simulate.ts';
import type { World } from '../world.ts';
import { techniquesTogether } from '../choices/together.ts';
import { expectedDays } from './expectedDays.ts';
import { readyRate } from './rollout.ts';
import type { Plan } from './rollout.ts';
import { inTurn, TrueValuer } from './trueValuer.ts';

/** Techniques by their true gain an hour in daily blocks from where they stand, with needs; ready ones first in each set. */
function trueOrder(world: World, learnings: readonly Learning[], state: readonly Progress[]): number[] {
  const valuer = new TrueValuer(world, learnings, state);
  const skills = [...world.skills.keys()];
  const hours = world.blockMinutes / 60;
  if (world.choices !== undefined) {
    const isReady = (i: number): boolean =>
      world.skills[i]!.known || learnings[i]!.rate(state[i]!) >= readyRate;
    return inTurn(valuer, skills, isReady, techniquesTogether(world), hours);
  }
  const items = skills.map((i) => valuer.value(i));
  const open = items.map((item) => ({ ...item, needs: item.needs.filter((n) => items[n]!.readyAt !== 0) }));
  const sets = closedSets(open, hours);
  const order = sets.flatMap((set) => [...set.members, ...set.extended].map(({ item }) => item));
  return [...new Set(order)].filter((i) => open[i]!.needs.length === 0);
}

/** Walks through the four weeks; `choose` gives the blocks of a session from where every technique stands. */
function walk(
  world: World,
  secret: Secret,
  choose: (state: readonly Progress[], blocks: number, day: number) => number[],
): Plan {
  const steps = expectedDays(world, secret);
  const { learnings } = secret.truth;
  const all = [...world.skills.keys()];
  let stands = all.map((i) => steps.start(i));
  return world.days.map(({ blocks }, day) => {
    const morning = stands.map(({ at }) => at);
    const needRate = (need: number): number => learnings[need]!.rate(morning[need]!);
    const today = blocks > 0 ? choose(morning, blocks, day) : [];
    const practised = stands.map((before, i) => {
      let stand = before;
      let earlier = 0;
      for (const skill of today) if (skill === i) stand = steps.block(i, stand, day, earlier++, needRate);
      return stand;
    });
    stands = steps.evening(all, practised, day).map((after, i) => steps.night(i, after, day));
    return today;
  });
}

/** Each session the first techniques of the true ranking, as the tool gives out its blocks. */
export function rankedAlike(world: World, secret: Secret): Plan {
  const { learnings } = secret.truth;
  return walk(world, secret, (state, blocks) =>
    fill(world, trueOrder(world, learnings, state).slice(0, blocks), blocks),
  );
}

/** Each block goes to what gains most an hour at that moment, within the hour a day of each technique. */
export function byIndex(world: World, secret: Secret): Plan {
  const { learnings } = secret.truth;
  const most = mostADay(world);
  return walk(world, secret, (morning, blocks, day) => {
    const needRate = (need: number): number => learnings[need]!.rate(morning[need]!);
    const state = [...morning];
    const today: number[] = [];
    while (today.length < blocks) {
      const open = trueOrder(world, learnings, state);
      const earlier = (skill: number): number => today.filter((j) => j === skill).length;
      const next = open.find((i) => earlier(i) < most);
      if (next === undefined) break;
      const { attempts } = blockOf(world, next, day, earlier(next), needRate);
      state[next] = learnings[next]!.practise(state[next]!, attempts, world.blockMinutes);
      today.push(next);
    }
    return today;
  });
}
