/** An invented route with its techniques, and a runner's weeks: what every policy is faced with alike. */
import type { RouteModel, SegmentModel, TechniqueModel } from '../../server/src/model/index.ts';
import type { OthersWord } from '../../server/src/model/core/rated.ts';
import { writtenUse } from './choices/skillChoice.ts';
import type { SkillChoice } from './choices/skillChoice.ts';
import { chance, seedOf } from './random.ts';
import type { Chance } from './random.ts';

/** How long a policy is followed, days. */
export const days = 28;

/** Day number of the first morning. */
export const firstDay = 20000;

/** A technique as it is, and as it is written in the route. */
export interface Skill {
  readonly id: string;
  /** True difficulty, 1 to 10; drives how fast it is learned. */
  readonly difficulty: number;
  /** The runner's own guess of it. */
  readonly written: number;
  /** Seconds gained by landing, lost by missing; 0 lost where a miss ends the run. */
  readonly saves: number;
  readonly loses: number;
  readonly endsRun: boolean;
  /** Numbers of the techniques it needs. */
  readonly needs: readonly number[];
  /** Seconds of an attempt and of the way back. */
  readonly attempt: number;
  readonly reload: number;
  /** Segments it is used in, once each. */
  readonly segments: readonly number[];
  /** Learned before the logs began. */
  readonly known: boolean;
}

export interface Stretch {
  readonly time: number;
  readonly survive: number;
}

/** What happens on one day. */
export interface Day {
  /** Blocks of practice; 0 on a day off. */
  readonly blocks: number;
  /** Runs started in the evening; 0 on most days. */
  readonly runs: number;
  /** Practice or runs were meant for this evening, and something came between. */
  readonly missed: boolean;
}

/** Share of the evenings that are missed, the same ones under every policy. */
const missedShare = 0.1;

export interface World {
  readonly seed: number;
  readonly skills: readonly Skill[];
  readonly segments: readonly Stretch[];
  readonly restart: number;
  readonly blockMinutes: number;
  readonly days: readonly Day[];
  /** What other runners' practice says of a technique, by its id. */
  readonly others?: ReadonlyMap<string, OthersWord> | undefined;
  /** Spots, backups, retries and items, by the number of the technique; none where the route has none of them. */
  readonly choices?: readonly SkillChoice[] | undefined;
}

/** What kind of world to make. */
export interface WorldOptions {
  readonly seed: number;
  /** Steps by which a written difficulty is off, up or down. */
  readonly guessOff: number;
  /** Share of the techniques learned before the logs began. */
  readonly knownShare: number;
  /** Most techniques in the route; 60 where not given. */
  readonly most?: number | undefined;
  /** The seed of the route, where several runners share it; the evenings are each runner's own. */
  readonly routeSeed?: number | undefined;
  /** Days that are simulated; {@link days} where not given. */
  readonly days?: number | undefined;
}

function between(random: Chance, low: number, high: number): number {
  return low * (high / low) ** random.next();
}

function needsOf(i: number, shape: number, random: Chance): number[] {
  if (i === 0 || shape === 0 || random.next() > 0.4) return [];
  // Chains lead to the neighbour before; trees to any technique before.
  if (shape === 1) return [i - 1];
  const first = random.whole(0, i - 1);
  const second = random.whole(0, i - 1);
  return random.next() < 0.2 && second !== first ? [first, second] : [first];
}

function schedule(random: Chance, dayCount: number): { days: Day[]; blockMinutes: number } {
  const blockMinutes = random.whole(20, 30);
  const minutes = random.whole(45, 120);
  const perWeek = random.whole(3, 6);
  const order = [0, 1, 2, 3, 4, 5, 6].map((day) => ({ day, by: random.next() }));
  order.sort((a, b) => a.by - b.by);
  const free = new Set(order.slice(0, perWeek).map(({ day }) => day));
  const runDay = random.whole(0, 6);
  const list = Array.from({ length: dayCount }, (_, day): Day => {
    const atHome = random.next() > missedShare;
    const today = minutes * random.between(0.75, 1.15);
    // Five minutes of rest follow each block.
    const practises = free.has(day % 7);
    const hasRuns = day % 7 === runDay;
    const blocks = practises && atHome ? Math.max(1, Math.floor((today + 5) / (blockMinutes + 5))) : 0;
    const runs = hasRuns && atHome ? random.whole(10, 30) : 0;
    return { blocks, runs, missed: !atHome && (practises || hasRuns) };
  });
  return { days: list, blockMinutes };
}

/** A world from its seed: 8 to 60 techniques in segments, with prerequisites, and four weeks of evenings. */
export function createWorld(options: WorldOptions): World {
  const random = chance(seedOf(options.routeSeed ?? options.seed, 11));
  const count = Math.round(between(random, 8, options.most ?? 60));
  const segmentCount = Math.max(5, Math.round(count * random.between(0.4, 0.8)));
  const shape = random.whole(0, 2);
  const skills = Array.from({ length: count }, (_, i): Skill => {
    const difficulty = random.whole(1, 10);
    const endsRun = random.next() < 0.08;
    const cycle = between(random, 4, 25);
    const reload = cycle * random.between(0.1, 0.4);
    const off = random.next() < 0.5 ? -options.guessOff : options.guessOff;
    const segments = [random.whole(0, segmentCount - 1)];
    const again = random.whole(0, segmentCount - 1);
    if (random.next() < 0.1 && again !== segments[0]) segments.push(again);
    return {
      id: `t${String(i).padStart(2, '0')}`,
      difficulty,
      written: Math.min(10, Math.max(1, difficulty + off)),
      saves: 2.5 * Math.exp(0.9 * random.normal() + 0.1 * (difficulty - 5)) * (endsRun ? 2 : 1),
      loses: endsRun ? 0 : 1.5 * Math.exp(0.8 * random.normal()),
      endsRun,
      needs: needsOf(i, shape, random),
      attempt: cycle - reload,
      reload,
      segments,
      known: random.next() < options.knownShare,
    };
  });
  const segments = Array.from({ length: segmentCount }, (): Stretch => ({
    time: random.between(40, 120),
    survive: random.between(0.97, 1),
  }));
  const restart = random.between(8, 30);
  const evenings = options.routeSeed === undefined ? random : chance(seedOf(options.seed, 17));
  return { seed: options.seed, skills, segments, restart, ...schedule(evenings, options.days ?? days) };
}

/** The route as the runner has written it; `inRun` says which techniques are tried in runs, `practised` which are learned. */
export function routeOf(
  world: World,
  inRun: (skill: number) => boolean,
  practised: (skill: number) => boolean,
): RouteModel {
  const techniques = world.skills.map((skill, i): TechniqueModel => ({
    id: skill.id,
    difficulty: skill.written,
    others: world.others?.get(skill.id),
    needs: skill.needs.map((need) => world.skills[need]!.id),
    attemptSeconds: skill.attempt,
    reloadSeconds: skill.reload,
    state: inRun(i) ? 'in-run' : practised(i) ? 'learning' : 'unlearned',
  }));
  const segments = world.segments.map((segment, s): SegmentModel => ({
    id: `s${s}`,
    time: segment.time,
    spread: 1,
    survive: segment.survive,
    luck: [],
    uses: [...world.skills.entries()]
      .filter(([, skill]) => skill.segments.includes(s))
      .map(([i, skill]) => ({
        id: `${skill.id}@s${s}`,
        technique: skill.id,
        saves: { mean: skill.saves, sd: 0 },
        misses: [{ chance: 1, loses: skill.loses, endsRun: skill.endsRun }],
        retrySeconds: 0,
        maxTries: 1,
        costs: 0,
        ...(world.choices && writtenUse(world.choices, i, (other) => world.skills[other]!.id)),
      })),
  }));
  return { segments, techniques, restart: world.restart };
}

/** Attempts in a full block at the technique's cycle. */
export function attemptsInBlock(world: World, skill: Skill): number {
  return (world.blockMinutes * 60) / (skill.attempt + skill.reload);
}
