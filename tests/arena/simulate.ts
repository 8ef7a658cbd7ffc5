/** Four weeks of one runner under one policy. */
import type { Logs, PracticeEntry, RunEntry } from '../../server/src/model/index.ts';
import type { MakePolicy, Tally } from './policies/policy.ts';
import { recentRate } from './policies/policy.ts';
import { chance, seedOf } from './random.ts';
import { fresh, inRun, logistic, logit } from './truth/truth.ts';
import type { Progress, Truth } from './truth/truth.ts';
import type { Kind } from './truth/kinds.ts';
import { breakEvens, worthOf } from './worth.ts';
import { attemptsInBlock, createWorld, days, firstDay } from './world.ts';
import type { Skill, World } from './world.ts';

/** Seconds of V gained against the first morning. */
export interface Outcome {
  /** Mean over the mornings of days 2 to 29: the area under the gain divided by its length. */
  readonly area: number;
  /** On the last morning. */
  readonly final: number;
}

/** A runner: a world and the truth about it. */
export interface Runner {
  readonly world: World;
  readonly truth: Truth;
  readonly start: readonly Progress[];
}

/** A runner of a kind, from a seed. `most` bounds the techniques of the route. */
export function createRunner(kind: Kind, seed: number, knownShare: number, most?: number): Runner {
  const world = createWorld({ seed, guessOff: kind.guessOff, knownShare, most });
  const truth = kind.make(world.skills, chance(seedOf(seed, 12)));
  const start = world.skills.map((skill, i) => (skill.known ? truth.learnings[i]!.known : fresh));
  return { world, truth, start };
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

const resetChance = 0.04;

interface Open {
  blocks: { landed: number; tries: number }[];
  runs: { landed: number; tries: number }[];
  inRun: boolean;
  lastDay: number;
}

/** Tries of each technique in an evening of runs: a run goes on until it dies, is reset or is finished. */
function evening(
  runner: Runner,
  started: number,
  tried: (skill: number) => boolean,
  rateOf: (skill: number) => number,
  seed: number,
): { landed: number; tries: number }[] {
  const random = chance(seed);
  const { world } = runner;
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
function triesTonight(tally: Tally, edge: number, known: boolean): boolean {
  const lately = tally.runs.slice(-2);
  const tries = lately.reduce((sum, run) => sum + run.tries, 0);
  const landed = lately.reduce((sum, run) => sum + run.landed, 0);
  const practice = recentRate(tally);
  if (practice === null && tries === 0) return known;
  const weight = 6;
  const rate = practice === null ? landed / tries : (landed + weight * practice) / (tries + weight);
  return rate >= edge;
}

/** Follows one policy for four weeks. */
export function simulate(runner: Runner, makePolicy: MakePolicy): Outcome {
  const { world, truth, start } = runner;
  const { skills } = world;
  const policy = makePolicy(world, world.seed, { truth, start });
  const edges = breakEvens(world);
  const worth = worthOf(world);
  const state = [...start];
  const tallies = skills.map((skill): Open => ({ blocks: [], runs: [], inRun: skill.known, lastDay: -1 }));
  const practice: PracticeEntry[] = [];
  const runs: RunEntry[] = [];
  const logs: Logs = { practice, runs };
  const now = (): number => worth(state.map((at, i) => inRun(truth.learnings[i]!, at)));
  const first = now();
  let order = 0;
  let area = 0;

  world.days.forEach((day, d) => {
    // What the day does to each technique, and how its tries fall, does not depend on the policy.
    const shiftOf = (i: number, rate: number, when: number): number =>
      truth.dayShift(rate, chance(seedOf(world.seed, 13, i, d, when)));
    const shifts = new Map<number, number>();
    const blocksToday = new Map<number, number>();
    const chosen = day.blocks > 0 ? policy.choose({ day: d, blocks: day.blocks, logs, tallies }) : [];
    for (const i of chosen.slice(0, day.blocks)) {
      const earlier = blocksToday.get(i) ?? 0;
      const skill = skills[i]!;
      if ((earlier + 1) * world.blockMinutes > 60)
        throw new Error(`More than an hour of ${skill.id} in a day`);
      blocksToday.set(i, earlier + 1);
      const random = chance(seedOf(world.seed, 14, i, d, earlier));
      const factor = needFactor(skill, (need) => truth.learnings[need]!.rate(state[need]!));
      const attempts = Math.round(attemptsInBlock(world, skill) * factor * random.between(0.85, 1.05));
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
      skills.forEach((skill, i) => {
        tallies[i]!.inRun = triesTonight(tallies[i]!, edges[i]!, skill.known);
      });
      const tonight = state.map((at, i) => {
        const rate = inRun(truth.learnings[i]!, at);
        return logistic(logit(rate) + shiftOf(i, rate, 1));
      });
      const counts = evening(
        runner,
        day.runs,
        (i) => tallies[i]!.inRun,
        (i) => tonight[i]!,
        seedOf(world.seed, 15, d),
      );
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
    area += first - now();
  });
  return { area: area / days, final: first - now() };
}
