/**
 * One who knows every true curve: the same ranking rule on true gains, practised out ahead of time, then improved by
 * exchanging blocks while the area under the gain rises. Not proved best, but a reference that no policy should pass.
 */
import { closedSets } from '../../../server/src/model/rank/closedSets.ts';
import { chance, seedOf } from '../random.ts';
import { afterSlip } from '../truth/slip.ts';
import type { Slip } from '../truth/slip.ts';
import { inRun } from '../truth/truth.ts';
import type { Learning, Progress } from '../truth/truth.ts';
import { needFactor } from '../simulate.ts';
import { attemptsInBlock, days } from '../world.ts';
import type { World } from '../world.ts';
import { worthOf } from '../worth.ts';
import { fill, mostADay } from './policy.ts';
import type { MakePolicy, Secret } from './policy.ts';

const horizon = 28;

/** Mean of the pace at which runners get through their attempts. */
const pace = 0.95;

type Plan = number[][];

/** True gains of daily blocks from a state, for the closure. */
function trueSets(
  world: World,
  learnings: readonly Learning[],
  state: readonly Progress[],
  inRuns: boolean[],
) {
  const worth = worthOf(world);
  const rates = state.map((at, i) => inRun(learnings[i]!, at));
  const without = worth(rates);
  const items = world.skills.map((skill, i) => {
    const learning = learnings[i]!;
    const gains = new Float64Array(horizon + 1);
    let at = state[i]!;
    let readyAt: number | null = inRuns[i] === true || learning.rate(at) >= 0.5 ? 0 : null;
    for (let n = 1; n <= horizon; n++) {
      at = learning.night(learning.practise(at, attemptsInBlock(world, skill) * pace, world.blockMinutes));
      rates[i] = inRun(learning, at);
      gains[n] = Math.max(gains[n - 1]!, without - worth(rates));
      if (readyAt === null && learning.rate(at) >= 0.5) readyAt = n;
    }
    rates[i] = inRun(learning, state[i]!);
    return { gains, needs: skill.needs, readyAt };
  });
  const open = items.map((item) => ({ ...item, needs: item.needs.filter((n) => items[n]!.readyAt !== 0) }));
  return { items: open, sets: closedSets(open, world.blockMinutes / 60) };
}

/** Where a technique stands after a night, with the slip where it is this one. */
function afterNight(
  learning: Learning,
  at: Progress,
  slip: Slip | null,
  skill: number,
  day: number,
): Progress {
  const next = learning.night(at);
  return slip !== null && slip.skill === skill && slip.night === day ? afterSlip(learning, next) : next;
}

/** What a day of practice does to every technique. */
function afterDay(
  world: World,
  { truth: { learnings }, slip }: Secret,
  state: Progress[],
  today: readonly number[],
  day: number,
) {
  for (const i of today) {
    const factor = needFactor(world.skills[i]!, (need) => learnings[need]!.rate(state[need]!));
    const attempts = attemptsInBlock(world, world.skills[i]!) * pace * factor;
    state[i] = learnings[i]!.practise(state[i]!, attempts, world.blockMinutes);
  }
  state.forEach((at, i) => {
    state[i] = afterNight(learnings[i]!, at, slip, i, day);
  });
}

/** Each session the first techniques of the true ranking whose needs are ready. */
function greedyPlan(world: World, secret: Secret): Plan {
  const { truth, start } = secret;
  const { learnings } = truth;
  const state = [...start];
  const known = world.skills.map((skill) => skill.known);
  return world.days.map(({ blocks }, day) => {
    let today: number[] = [];
    if (blocks > 0) {
      const { items, sets } = trueSets(world, learnings, state, known);
      const order = sets.flatMap((set) => [...set.members, ...set.extended].map((m) => m.item));
      const open = [...new Set(order)].filter((i) => items[i]!.needs.length === 0);
      today = fill(world, open.slice(0, blocks), blocks);
    }
    afterDay(world, secret, state, today, day);
    return today;
  });
}

/** Rates of one technique on every morning under a plan, in practice and in runs. */
interface Path {
  readonly practice: Float64Array;
  readonly runs: Float64Array;
}

class Rollout {
  private readonly world: World;
  private readonly secret: Secret;
  private readonly worth: (rates: ArrayLike<number>) => number;
  private readonly dependants: readonly (readonly number[])[];
  private readonly rates: Float64Array;

  constructor(world: World, secret: Secret) {
    this.world = world;
    this.secret = secret;
    this.worth = worthOf(world);
    // Needs come before what stands on them, so one pass in order finds all that hangs on a technique.
    this.dependants = world.skills.map((_, root) => {
      const hang = new Set([root]);
      world.skills.forEach((skill, i) => {
        if (skill.needs.some((need) => hang.has(need))) hang.add(i);
      });
      return [...hang];
    });
    this.rates = new Float64Array(world.skills.length);
  }

  path(skill: number, plan: Plan, paths: readonly Path[]): Path {
    const { world, secret } = this;
    const learning = secret.truth.learnings[skill]!;
    const path = { practice: new Float64Array(days + 1), runs: new Float64Array(days + 1) };
    let at = secret.start[skill]!;
    for (let d = 0; d <= days; d++) {
      path.practice[d] = learning.rate(at);
      path.runs[d] = inRun(learning, at);
      if (d === days) break;
      const own = world.skills[skill]!;
      for (const i of plan[d]!) {
        if (i !== skill) continue;
        const factor = needFactor(own, (need) => paths[need]!.practice[d]!);
        at = learning.practise(at, attemptsInBlock(world, own) * pace * factor, world.blockMinutes);
      }
      at = afterNight(learning, at, secret.slip, skill, d);
    }
    return path;
  }

  all(plan: Plan): Path[] {
    const paths: Path[] = [];
    this.world.skills.forEach((_, i) => paths.push(this.path(i, plan, paths)));
    return paths;
  }

  /** Paths after the plan of some techniques has changed, with whatever hangs on them. */
  updated(paths: readonly Path[], plan: Plan, changed: readonly number[]): Path[] {
    const next = [...paths];
    const hang = new Set(changed.flatMap((i) => this.dependants[i]!));
    for (const i of [...hang].sort((a, b) => a - b)) next[i] = this.path(i, plan, next);
    return next;
  }

  /** Sum of V over the mornings: what is to be made small. */
  total(paths: readonly Path[]): number {
    let total = 0;
    for (let d = 1; d <= days; d++) {
      for (let i = 0; i < paths.length; i++) this.rates[i] = paths[i]!.runs[d]!;
      total += this.worth(this.rates);
    }
    return total;
  }
}

const exchanges = 1500;

function improved(world: World, secret: Secret, plan: Plan, seed: number): Plan {
  const random = chance(seedOf(seed, 79));
  const rollout = new Rollout(world, secret);
  const sessions = plan.flatMap((blocks, d) => (blocks.length > 0 ? [d] : []));
  if (sessions.length === 0) return plan;
  let best = plan;
  let paths = rollout.all(plan);
  let total = rollout.total(paths);
  const most = mostADay(world);
  for (let step = 0; step < exchanges; step++) {
    const next = best.map((blocks) => [...blocks]);
    const d = sessions[random.whole(0, sessions.length - 1)]!;
    const slot = random.whole(0, next[d]!.length - 1);
    const old = next[d]![slot]!;
    const other = sessions[random.whole(0, sessions.length - 1)]!;
    const otherSlot = random.whole(0, next[other]!.length - 1);
    const fromPlan = next[other]![otherSlot]!;
    const fresh = random.next() < 0.5 ? fromPlan : random.whole(0, world.skills.length - 1);
    const kind = random.next();
    if (kind < 0.35) next[d]![slot] = fresh;
    else if (kind < 0.65) {
      next[d]![slot] = fromPlan;
      next[other]![otherSlot] = old;
    } else {
      // From this session on, some or all blocks of one technique go to another.
      let left = random.whole(1, 8);
      for (const day of sessions) {
        if (day < d) continue;
        next[day] = next[day]!.map((i) => (i === old && left-- > 0 ? fresh : i));
      }
    }
    if (next.some((blocks) => blocks.some((i) => blocks.filter((j) => j === i).length > most))) continue;
    const changed = rollout.updated(paths, next, [...new Set([old, fresh, fromPlan])]);
    const now = rollout.total(changed);
    if (now > total) continue;
    best = next;
    paths = changed;
    total = now;
  }
  return best;
}

function following(plan: Plan) {
  return { choose: (view: { day: number; blocks: number }) => plan[view.day]!.slice(0, view.blocks) };
}

/** The true ranking followed session by session. */
export const greedyClairvoyant: MakePolicy = (world, _seed, secret) => following(greedyPlan(world, secret));

/** The same plan improved by exchange. */
export const clairvoyant: MakePolicy = (world, seed, secret) =>
  following(improved(world, secret, greedyPlan(world, secret), seed));
