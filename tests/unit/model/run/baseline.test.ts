/** The best way to play a run, against every way to play it. S: the definition of a minimum; no outside source. */
import { describe, expect, test } from 'vitest';
import { defaultConstants } from '../../../../server/src/model/core/constants.ts';
import type { RouteModel, UseModel } from '../../../../server/src/model/core/types.ts';
import { chooseBaseline } from '../../../../server/src/model/run/baseline.ts';
import { layOutRoute } from '../../../../server/src/model/run/routeLayout.ts';
import { RunState } from '../../../../server/src/model/run/runState.ts';
import { route, seeded, segment, technique, use } from '../../../helpers/invented.ts';

type Rates = Readonly<Record<string, number>>;

/** V of the baseline, with some techniques allowed. */
function chosen(given: RouteModel, rates: Rates, allowed = Object.keys(rates)): number {
  const layout = layOutRoute(given);
  return chooseBaseline(
    layout,
    (id) => allowed.includes(id),
    (id) => rates[id]!,
    defaultConstants,
  ).worth;
}

/** The least V of all ways to play. */
function least(given: RouteModel, rates: Rates): number {
  const layout = layOutRoute(given);
  const state = new RunState(layout);
  const ways = layout.choices.reduce<number[][]>(
    (all, { options }) => all.flatMap((one) => [-1, ...options.keys()].map((option) => [...one, option])),
    [[]],
  );
  return Math.min(
    ...ways.map((played) => {
      state.recompute(Int32Array.from(played), (id) => rates[id]!);
      return state.worth(defaultConstants).worth;
    }),
  );
}

describe('the baseline', () => {
  const fetch = use('fetch', 2, 0, { take: 'oil' });
  const pour = use('pour', 1, 9, { with: 'oil' });
  const oil = route(
    [segment('a', 60, [fetch]), segment('b', 60, [pour])],
    ['fetch', 'pour'].map((id) => technique(id)),
  );

  test('picks an item up that one of its uses would waste', () => {
    const rates = { fetch: 0.5, pour: 0.1 };
    expect(chosen(oil, rates)).toBeCloseTo(chosen(oil, rates, ['fetch']), 9);
    expect(chosen(oil, rates)).toBeCloseTo(least(oil, rates), 9);
  });

  test('does without an item of which every use costs more than picking it up gains', () => {
    const dear = route(
      [segment('a', 60, [{ ...fetch, saves: { mean: 0, sd: 0 }, costs: 2 }]), segment('b', 60, [pour])],
      oil.techniques.slice(),
    );
    const rates = { fetch: 1, pour: 0.5 };
    expect(chosen(dear, rates)).toBeCloseTo(least(dear, rates), 9);
  });

  test('is the best of all ways to play tiny runs with spots, items and ends of the run', () => {
    const random = seeded(77);
    for (let round = 0; round < 150; round++) {
      const ids = Array.from({ length: 6 }, (_, i) => `t${i}`);
      const uses = ids.map((id, i): UseModel => {
        const endsRun = random() < 0.35;
        const item = random() < 0.5 ? (i < 2 ? { take: 'oil', costs: random() } : { with: 'oil' }) : {};
        const spot = random() < 0.4 ? { spot: `spot${i % 3}` } : {};
        const misses = [{ chance: 1, loses: endsRun ? 0 : 6 * random(), endsRun }];
        return use(id, (endsRun ? 25 : 6) * random(), 0, { misses, ...item, ...spot });
      });
      const given = route(
        [0, 1, 2].map((s) => segment(`s${s}`, 60, uses.slice(2 * s, 2 * s + 2), { survive: 0.98 })),
        ids.map((id) => technique(id)),
      );
      const rates = Object.fromEntries(ids.map((id) => [id, 0.05 + 0.9 * random()]));
      expect(chosen(given, rates) - least(given, rates), `round ${round}`).toBeLessThan(1e-9);
    }
  });
});
