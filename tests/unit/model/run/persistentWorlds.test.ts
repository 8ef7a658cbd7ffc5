/**
 * The expected best of many runs against plain simulation: a runner, every technique's curve and loss, and what each
 * use saves are drawn once from the posterior, and then all runs are played one by one. Source: the definition of
 * the expected best under the model's own posterior; no outside source.
 */
import { describe, expect, test } from 'vitest';
import { oddsFromLogs } from '../../../../server/src/model/run/oddsFromLogs.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import type { RankInput } from '../../../../server/src/model/run/preparedModel.ts';
import { layOutRoute } from '../../../../server/src/model/run/routeLayout.ts';
import { logistic } from '../../../../server/src/model/core/numbers.ts';
import {
  block,
  noLogs,
  plainOptions,
  route,
  seeded,
  segment,
  technique,
  use,
} from '../../../helpers/invented.ts';
import { playRun } from '../../../helpers/playedRuns.ts';

const ids = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i', 'j'];

function inputOf(blocks: number, sd = 0): RankInput {
  const practice = ids.flatMap((id, i) =>
    Array.from({ length: blocks }, (_, day) => block(id, day, 8 + 3 * (i % 4) + 2 * day, 30)),
  );
  return {
    route: route(
      ids.map((id, i) =>
        segment(`s-${id}`, 60, [use(id, 4 + (i % 3), 1, { saves: { mean: 4 + (i % 3), sd } })], {
          spread: 1,
        }),
      ),
      ids.map((id, i) => technique(id, { difficulty: 2 + (i % 4), state: 'in-run' })),
    ),
    logs: blocks === 0 ? noLogs : { practice, runs: [] },
    asOfDay: blocks,
    options: plainOptions,
    // Days that differ in form are the matter of formOfRuns.test.ts.
    constants: { formSd: 0 },
  };
}

/** A place of a list of weights, in proportion to them. */
function pick(weights: ArrayLike<number>, total: number, share: number): number {
  let left = share * total;
  for (let i = 0; i < weights.length; i++) if ((left -= weights[i]!) < 0) return i;
  return weights.length - 1;
}

const sumOf = (weights: Float64Array): number => weights.reduce((a, b) => a + b, 0);

/** Mean best of `runs` over simulated runners, with its standard error. */
function simulate(input: RankInput, runs: number, runners: number, seed: number) {
  const prepared = prepareModel(input);
  const layout = layOutRoute(input.route);
  const uses = new Set(oddsFromLogs(input, { target: null }).uses);
  const played = Int32Array.from(layout.choices, ({ options }) => (uses.has(options[0]!.use.id) ? 0 : -1));
  const random = seeded(seed);
  const { runner } = prepared;
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const given = new Map<string, { weights: Float64Array; total: number }>();
  const ratesOf = (): Map<string, number> => {
    const node = pick(runner.weights, 1, random());
    const [row, column] = [Math.floor(node / runner.pressures.length), node % runner.pressures.length];
    return new Map(
      [...prepared.fittedTechniques].map(([id, { posterior, technique: t, logitsNow }]) => {
        const { curves, grid, losses, likelihood } = posterior;
        const width = losses.count;
        const key = `${id} ${node}`;
        let all = given.get(key);
        if (all === undefined) {
          const slots = runner.slotPriors(t)[row]!;
          const weights = new Float64Array(curves.length * width);
          curves.forEach((curve, i) => {
            for (let j = 0; j < width; j++)
              weights[i * width + j] =
                likelihood.curve[i]! *
                (likelihood.runs?.[i * width + j] ?? 1) *
                slots[grid.curveSlot[curve]!]! *
                runner.lossPriors(t)[column]![j]!;
          });
          all = { weights, total: sumOf(weights) };
          if (given.size < 200) given.set(key, all);
        }
        const at = pick(all.weights, all.total, random());
        const loss = losses.from + (at % width) * losses.step;
        return [id, logistic(logitsNow[Math.floor(at / width)]! - loss)];
      }),
    );
  };
  let [sum, squares] = [0, 0];
  for (let n = 0; n < runners; n++) {
    const rates = ratesOf();
    const world = {
      ...input.route,
      segments: input.route.segments.map((s) => ({
        ...s,
        uses: s.uses.map((u) => ({ ...u, saves: { mean: u.saves.mean + u.saves.sd * normal(), sd: 0 } })),
      })),
    };
    const ownLayout = layOutRoute(world);
    let best = Infinity;
    for (let run = 0; run < runs; run++)
      best = Math.min(
        best,
        playRun(world, ownLayout, played, (id) => rates.get(id) ?? 0, random).final ?? Infinity,
      );
    sum += best;
    squares += best * best;
  }
  const mean = sum / runners;
  return { mean, error: Math.sqrt((squares / runners - mean * mean) / runners) };
}

describe('the best of 100 runs is that of simulated runners whose doubts last', () => {
  test.each<[name: string, blocks: number, sd: number, runners: number]>([
    ['nothing logged', 0, 0, 200],
    ['three blocks on each', 3, 0, 600],
    ['three blocks, and seconds saved that are doubted', 3, 1.2, 600],
  ])('%s', (_, blocks, sd, runners) => {
    const input = inputOf(blocks, sd);
    const told = oddsFromLogs(input, { target: null }).bestAfter.find(({ runs }) => runs === 100)!.mean;
    const { mean, error } = simulate(input, 100, runners, 5);
    expect(Math.abs(told - mean)).toBeLessThan(2 * error);
  });
});

test('one run is not changed by doubts that last, and the same question has the same answer', () => {
  const answer = oddsFromLogs(inputOf(3, 1.2), { target: null });
  expect(answer.bestAfter[0]!.mean).toBeCloseTo(answer.finalTime, 9);
  expect(oddsFromLogs(inputOf(3, 1.2), { target: null })).toEqual(answer);
});

test('doubt about the seconds saved lasts where the landing rates are taken as known', () => {
  const best = (sd: number): number =>
    oddsFromLogs(inputOf(3, sd), { target: null, ratesKnown: true }).bestAfter.at(-1)!.mean;
  // A hundred runs cannot choose the luckiest of what is the same in all of them. (Drawn anew in every run, the doubt
  // would take 1.6 s off.) The best runs are those in which what saves more than expected landed: that little is left.
  expect(best(1.2)).toBeLessThanOrEqual(best(0));
  expect(best(0) - best(1.2)).toBeLessThan(0.4);
});

test('new names and another order of the techniques change nothing', () => {
  const input = inputOf(2, 0.5);
  const named = (id: string): string => `z${100 - ids.indexOf(id)}`;
  const renamed: RankInput = {
    ...input,
    route: {
      ...input.route,
      techniques: input.route.techniques.map((t) => ({ ...t, id: named(t.id) })).reverse(),
      segments: input.route.segments.map((s) => ({
        ...s,
        uses: s.uses.map((u) => ({ ...u, id: named(u.id), technique: named(u.technique) })),
      })),
    },
    logs: { practice: input.logs.practice.map((b) => ({ ...b, technique: named(b.technique) })), runs: [] },
  };
  const [one, other] = [input, renamed].map((i) => oddsFromLogs(i, { target: null }).bestAfter);
  one!.forEach(({ mean }, i) => expect(other![i]!.mean).toBeCloseTo(mean, 8));
});
