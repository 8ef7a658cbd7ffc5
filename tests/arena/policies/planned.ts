/** A runner who plans anew on every morning, with the product's own planner, and follows the plan of that day. */
import { ModelCache } from '../../../server/src/model/index.ts';
import { planWeek } from '../../../server/src/model/week/planWeek.ts';
import type { PlanInput } from '../../../server/src/model/week/planWeek.ts';
import { minutesOfSession } from '../../../server/src/model/week/sessions.ts';
import type { World } from '../world.ts';
import type { MakePolicy, Policy, View } from './policy.ts';
import { rankingOf } from './tool.ts';

/** Days that each plan looks ahead, as the product's does. */
const horizon = 28;

/** Plans that the search evaluates on a morning; the product's default is more. */
const evaluations = 200;

/**
 * Free minutes of the coming days. A missed evening is not foreseen: it has as many as the day before it that was not missed.
 * After the last day that is simulated its last week comes again, because a runner's plan knows of no end.
 */
export function freeMinutes(world: World, today: number): number[] {
  let usual = 0;
  const blocks = world.days.map((day) => {
    if (!day.missed) usual = day.blocks;
    return day.missed ? usual : day.blocks;
  });
  const lastWeek = blocks.slice(-7);
  return Array.from({ length: horizon }, (_, d) => {
    const after = today + d - blocks.length;
    const count = after < 0 ? blocks[today + d]! : lastWeek[after % lastWeek.length]!;
    return minutesOfSession({ blocks: count, length: world.blockMinutes });
  });
}

/** Where each technique stands, with those that the runner has put aside for others. */
function withAside(standings: NonNullable<PlanInput['standings']>, putAside: ReadonlySet<string>) {
  return new Map(
    [...standings].map(([id, stands]) => [id, putAside.has(id) ? { kind: 'aside' as const } : stands]),
  );
}

/**
 * The plan of each morning, day by day.
 *
 * @param swaps whether the runner makes the swaps that the plans offer: what is put aside stays out until a plan brings it back,
 * and its blocks of that day go to the technique that takes its place
 */
function plannedWithSwaps(swaps: boolean): MakePolicy {
  return (world): Policy => {
    const cache = new ModelCache();
    const numbers = new Map(world.skills.map((skill, i) => [skill.id, i]));
    const putAside = new Set<string>();
    let learned: ReadonlySet<string> = new Set();
    const choose = (view: View): number[] => {
      const { input, order, rows } = rankingOf(world, view, cache);
      learned = new Set(
        rows.filter((row) => row.competent || row.standing === 'in-run').map(({ technique }) => technique),
      );
      const plan = planWeek(
        {
          ...input,
          standings: withAside(order.standings, putAside),
          minutes: freeMinutes(world, view.day),
          evaluations,
          boundRounds: 0,
        },
        cache,
      );
      for (const technique of plan.set) putAside.delete(technique);
      const made = swaps ? plan.swaps : [];
      for (const { technique } of made) putAside.add(technique);
      const insteadOf = new Map(made.map(({ technique, instead }) => [technique, instead]));
      return plan.days[0]!.blocks.map(({ technique }) => numbers.get(insteadOf.get(technique) ?? technique)!);
    };
    const isLearned = (id: string): boolean => learned.has(id) || putAside.has(id);
    return { choose, learned: (skill) => isLearned(world.skills[skill]!.id) };
  };
}

/** The product's plan of each morning, by a runner who makes the swaps that it offers. */
export const planned: MakePolicy = plannedWithSwaps(true);

/** The same, by a runner who makes none of them. */
export const plannedWithoutSwaps: MakePolicy = plannedWithSwaps(false);
