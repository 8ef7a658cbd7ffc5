/** A runner who plans anew on every morning, with the product's own planner, and follows the plan of that day. */
import { ModelCache } from '../../../server/src/model/index.ts';
import { planWeek } from '../../../server/src/model/week/planWeek.ts';
import { minutesOfSession } from '../../../server/src/model/week/sessions.ts';
import type { World } from '../world.ts';
import type { MakePolicy, Policy, View } from './policy.ts';
import { rankingOf } from './tool.ts';

/** Days that each plan looks ahead. */
const horizon = 14;

/** Plans that the search evaluates on a morning; the product's default is more. */
const evaluations = 200;

/** Free minutes of the coming days. A missed evening is not foreseen: it has as many as the day before it that was not missed. */
function freeMinutes(world: World, today: number): number[] {
  let usual = 0;
  return world.days
    .map(({ blocks, missed }) => {
      if (!missed) usual = blocks;
      return missed ? usual : blocks;
    })
    .slice(today, today + horizon)
    .map((blocks) => minutesOfSession({ blocks, length: world.blockMinutes }));
}

/** The plan of each morning, day by day. */
export const planned: MakePolicy = (world): Policy => {
  const cache = new ModelCache();
  const numbers = new Map(world.skills.map((skill, i) => [skill.id, i]));
  let learned: ReadonlySet<string> = new Set();
  const choose = (view: View): number[] => {
    const { input, rows } = rankingOf(world, view, cache);
    learned = new Set(
      rows.filter((row) => row.competent || row.standing === 'in-run').map(({ technique }) => technique),
    );
    const { days } = planWeek(
      { ...input, minutes: freeMinutes(world, view.day), evaluations, boundRounds: 0 },
      cache,
    );
    return days[0]!.blocks.map(({ technique }) => numbers.get(technique)!);
  };
  return { choose, learned: (skill) => learned.has(world.skills[skill]!.id) };
};
