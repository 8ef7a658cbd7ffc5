import fc from 'fast-check';
import { expect, test } from 'vitest';
import { defaultConstants as constants } from '../../../../server/src/model/core/constants.ts';
import { layOutRoute } from '../../../../server/src/model/run/routeLayout.ts';
import { RunWorthEvaluator } from '../../../../server/src/model/run/runWorthEvaluator.ts';
import { RunState } from '../../../../server/src/model/run/runState.ts';
import { affectedSegments } from '../../../../server/src/model/run/affectedSegments.ts';
import { route, segment, technique, use } from '../../../helpers/invented.ts';

const rate = fc.integer({ min: 0, max: 20 }).map((n) => n / 20);
const option = fc.integer({ min: -1, max: 1 });

const layout = layOutRoute(
  route(
    [
      segment('a', 60, [use('hop', 3, 2), use('dip', 2, 1, { take: 'rope', costs: 0.5 })], { survive: 0.95 }),
      segment('b', 50, [use('dip', 1, 1)], { survive: 0.9 }),
      segment('c', 90, [
        use('hop', 4, 1, { spot: 'x', backup: 'dip' }),
        use('spin', 5, 3, { spot: 'x', misses: [{ chance: 1, endsRun: true, loses: 0 }] }),
      ]),
      segment('d', 40, [use('spin', 6, 2, { with: 'rope' })]),
      segment('e', 30, [use('dip', 1, 2)], { survive: 0.8 }),
    ],
    [technique('hop'), technique('dip'), technique('spin')],
  ),
);
const choices = layout.choices.length;

test('a probe says of a changed run what working it all out anew says', () => {
  fc.assert(
    fc.property(
      fc.array(option, { minLength: choices, maxLength: choices }),
      fc.array(option, { minLength: choices, maxLength: choices }),
      fc.record({ hop: rate, dip: rate, spin: rate }),
      fc.array(rate, { minLength: 1, maxLength: 3 }),
      fc.constantFrom('hop', 'dip', 'spin'),
      fc.integer({ min: 0, max: choices - 1 }),
      (before, after, rates, asked, changing, changed) => {
        const state = new RunState(layout);
        const played = Int32Array.from(before);
        state.recompute(played, (id) => rates[id as keyof typeof rates]);
        // Whatever the technique has a part in must lie in what the probe may change.
        const own = [...layout.choices.keys()].filter((c) =>
          layout.choices[c]!.options.some((o) => o.technique === changing || o.backup === changing),
        );
        const touched = affectedSegments(layout, [changed, ...own]);
        const probe = new RunWorthEvaluator(
          layout,
          state,
          touched,
          changing,
          (id) => rates[id as keyof typeof rates],
          constants,
        );
        layout.choices.forEach(({ segment: s }, c) => {
          if (touched.includes(s)) played[c] = after[c]!;
        });
        for (const at of asked) {
          probe.setRate(at);
          const anew = new RunState(layout);
          anew.recompute(played, (id) => (id === changing ? at : rates[id as keyof typeof rates]));
          const { worth } = anew.worth(constants);
          expect(Math.abs(probe.worth(played) - worth)).toBeLessThan(1e-9 * Math.max(1, Math.abs(worth)));
        }
      },
    ),
    { seed: 20261126, numRuns: 300 },
  );
});
