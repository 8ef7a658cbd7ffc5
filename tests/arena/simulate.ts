/** Four weeks of one runner under one policy. */
import type { Logs, PracticeEntry, RunEntry } from '../../server/src/model/index.ts';
import { withChoices } from './choices/draw.ts';
import { createTonight } from './choices/tonight.ts';
import { evening } from './evening.ts';
import { exitsPerWeek } from './membership.ts';
import type { PracticeDay } from './membership.ts';
import type { MakePolicy, View } from './policies/policy.ts';
import { chance, seedOf } from './random.ts';
import type { Chance } from './random.ts';
import type { Kind } from './truth/kinds.ts';
import { afterSlip, drawSlip } from './truth/slip.ts';
import type { Slip } from './truth/slip.ts';
import { fresh, inRun, logistic, logit } from './truth/truth.ts';
import type { Progress, Truth } from './truth/truth.ts';
import { breakEvens, worthOf } from './worth.ts';
import { attemptsInBlock, createWorld, days, firstDay } from './world.ts';
import type { Skill, World } from './world.ts';

/**
 * What came of four weeks. Gains are seconds of V against the first morning, and after a slip against the first morning
 * with the slip: what nobody can help is not counted against a policy.
 */
export interface Outcome {
  /** Mean over the mornings of days 2 to 29: the area under the gain divided by its length. */
  readonly area: number;
  /** On the last morning. */
  readonly final: number;
  /** Techniques a week that left the practice set without being learned; null where too few days were practised. */
  readonly exits: number | null;
  /** The answer to the slip; null where there was none. */
  readonly slip: {
    /** Days from the first morning after the slip to the next practice of the technique; null: none in the four weeks. */
    readonly days: number | null;
  } | null;
}

/** A runner: a world and the truth about it. */
export interface Runner {
  readonly world: World;
  readonly truth: Truth;
  readonly start: readonly Progress[];
  readonly slip: Slip | null;
}

/**
 * A runner of a kind, from a seed.
 *
 * @param knownShare least share of the techniques that is learned before the logs begin; the kind can have more
 * @param most bounds the techniques of the route
 */
export function createRunner(kind: Kind, seed: number, knownShare: number, most?: number): Runner {
  const known = Math.max(knownShare, kind.knownShare);
  const plain = createWorld({ seed, guessOff: kind.guessOff, knownShare: known, most });
  const world = kind.choices ? withChoices(plain) : plain;
  const truth = kind.make(world.skills, chance(seedOf(seed, 12)));
  const start = world.skills.map((skill, i) => (skill.known ? truth.learnings[i]!.known : fresh));
  const slip = kind.slips ? drawSlip(world, truth, start, chance(seedOf(seed, 16))) : null;
  return { world, truth, start, slip };
}

/**
 * How far attempts at a technique count while a need of it does not land half the time: tries in which the need
 * fails are no tries of what stands on it.
 */
export function needFactor(skill: Skill, rateOf: (skill: number) => number): number {
  let factor = 1;
  for (const need of skill.needs) factor = Math.min(factor, rateOf(need) / 0.5);
  return factor;
}

/**
 * One block of practice: how many attempts it comes to, and the luck of its landings. It hangs on the technique, the day and the
 * number of the block there, whoever practises.
 *
 * @param earlier blocks of the technique on that day before this one
 */
export function blockOf(
  world: World,
  skill: number,
  day: number,
  earlier: number,
  needRate: (need: number) => number,
): { readonly attempts: number; readonly random: Chance } {
  const random = chance(seedOf(world.seed, 14, skill, day, earlier));
  const own = world.skills[skill]!;
  const most = attemptsInBlock(world, own) * needFactor(own, needRate);
  return { attempts: Math.round(most * random.between(0.85, 1.05)), random };
}

interface Open {
  blocks: { landed: number; tries: number }[];
  runs: { landed: number; tries: number }[];
  inRun: boolean;
  lastDay: number;
}

/**
 * Follows one policy for four weeks.
 *
 * @param onMorning is told, on the morning after each day, the day counted from 1, where every technique stands, and the logs so far
 */
export function simulate(
  runner: Runner,
  makePolicy: MakePolicy,
  onMorning?: (day: number, state: readonly Progress[], view: View) => void,
): Outcome {
  const { world, truth, start, slip } = runner;
  const { skills } = world;
  const policy = makePolicy(world, world.seed, runner);
  const edges = breakEvens(world);
  const playedBy = createTonight(world, edges);
  const worth = worthOf(world);
  const state = [...start];
  const tallies = skills.map((skill): Open => ({ blocks: [], runs: [], inRun: skill.known, lastDay: -1 }));
  const practice: PracticeEntry[] = [];
  const runs: RunEntry[] = [];
  const logs: Logs = { practice, runs };
  const practiceDays: PracticeDay[] = [];
  const worthAt = (at: readonly Progress[]): number =>
    worth(at.map((progress, i) => inRun(truth.learnings[i]!, progress)));
  let first = worthAt(start);
  let order = 0;
  let area = 0;

  world.days.forEach((day, d) => {
    // What the day does to each technique, and how its tries fall, does not depend on the policy.
    const shiftOf = (i: number, rate: number, when: number): number =>
      truth.dayShift(rate, chance(seedOf(world.seed, 13, i, d, when)));
    const shifts = new Map<number, number>();
    const blocksToday = new Map<number, number>();
    const view: View = { day: d, blocks: day.blocks, logs, tallies };
    const chosen = day.blocks > 0 ? policy.choose(view).slice(0, day.blocks) : [];
    if (chosen.length > 0) {
      const learned = skills.map((_, i) =>
        policy.learned === undefined
          ? inRun(truth.learnings[i]!, state[i]!) >= edges[i]!
          : policy.learned(i, view),
      );
      practiceDays.push({ day: d, practised: new Set(chosen), learned: (skill) => learned[skill]! });
    }
    for (const i of chosen) {
      const earlier = blocksToday.get(i) ?? 0;
      const skill = skills[i]!;
      if ((earlier + 1) * world.blockMinutes > 60)
        throw new Error(`More than an hour of ${skill.id} in a day`);
      blocksToday.set(i, earlier + 1);
      const { attempts, random } = blockOf(world, i, d, earlier, (need) =>
        truth.learnings[need]!.rate(state[need]!),
      );
      const learning = truth.learnings[i]!;
      const before = state[i]!;
      const half = learning.practise(before, attempts / 2, world.blockMinutes / 2);
      state[i] = learning.practise(before, attempts, world.blockMinutes);
      const rate = learning.rate(half);
      const shift = shifts.get(i) ?? shiftOf(i, rate, 0);
      shifts.set(i, shift);
      const landed = random.binomial(attempts, logistic(logit(rate) + shift));
      const tally = tallies[i]!;
      if (attempts > 0) tally.blocks.push({ landed, tries: attempts });
      tally.lastDay = d;
      practice.push({
        technique: skill.id,
        day: firstDay + d,
        order: order++,
        minutes: world.blockMinutes,
        attempts,
        counted: { landed, tries: attempts },
      });
    }
    if (day.runs > 0) {
      const played = playedBy((i) => tallies[i]!);
      tallies.forEach((tally, i) => {
        tally.inRun = played.inRun(i);
      });
      const tonight = state.map((at, i) => {
        const rate = inRun(truth.learnings[i]!, at);
        return logistic(logit(rate) + shiftOf(i, rate, 1));
      });
      const counts = evening(world, day.runs, played, (i) => tonight[i]!, seedOf(world.seed, 15, d));
      counts.forEach((counted, i) => {
        if (counted.tries === 0) return;
        state[i] = truth.learnings[i]!.practise(state[i]!, counted.tries, 0);
        tallies[i]!.runs.push(counted);
        runs.push({ technique: skills[i]!.id, day: firstDay + d, order: order++, counted });
      });
    }
    state.forEach((at, i) => {
      state[i] = truth.learnings[i]!.night(at);
    });
    if (slip?.night === d) {
      const fallen = (at: readonly Progress[]): Progress =>
        afterSlip(truth.learnings[slip.skill]!, at[slip.skill]!);
      first = worthAt(start.with(slip.skill, fallen(start)));
      state[slip.skill] = fallen(state);
    }
    area += first - worthAt(state);
    onMorning?.(d + 1, state, view);
  });
  return {
    area: area / days,
    final: first - worthAt(state),
    exits: exitsPerWeek(practiceDays),
    slip: slip && { days: daysUntilPractised(slip, practiceDays) },
  };
}

/** Days from the first morning after the slip to the next practice of its technique. */
function daysUntilPractised({ skill, night }: Slip, practiceDays: readonly PracticeDay[]): number | null {
  const next = practiceDays.find(({ day, practised }) => day > night && practised.has(skill));
  return next === undefined ? null : next.day - (night + 1);
}
