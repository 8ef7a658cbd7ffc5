import fc from 'fast-check';
import { expect, test } from 'vitest';
import { rank, ModelCache } from '../../../../server/src/model/index.ts';
import type { RouteModel, UseModel } from '../../../../server/src/model/core/types.ts';
import { block, plainOptions, segment, technique, use } from '../../../helpers/invented.ts';

/** Eight uses in four segments, with a spot, an item, a backup and ways to end the run, written anew after each edit. */
function routeOf(numbers: readonly number[], inRun: readonly boolean[]): RouteModel {
  const [saves, loses, time, survive, ends, costs, restart, tries] = numbers.map((n) => n / 10);
  const ending = { misses: [{ chance: 1, loses: 0, endsRun: true }] };
  const uses = (list: UseModel[]): UseModel[] => (costs! > 1.5 ? list.slice(0, -1) : list);
  const ids = ['arc', 'bow', 'cut', 'dip', 'ebb', 'fan'];
  return {
    restart: 20 * restart!,
    segments: [
      segment('one', 30 + time!, [
        use('arc', saves!, loses!),
        use('bow', 3, 1, { take: 'key', costs: costs! }),
      ]),
      segment(
        'two',
        40,
        uses([use('cut', 4, 2, { spot: 'x', backup: 'arc' }), use('dip', saves! + 1, 1, { spot: 'x' })]),
        {
          survive: 0.8 + survive! / 20,
        },
      ),
      segment('three', 50, [
        use('ebb', 6, loses!, { with: 'key' }),
        use('arc', 1, 2, { maxTries: 1 + Math.round(tries!), retrySeconds: 1 }),
      ]),
      segment('four', 60, [use('fan', 5, 1, ends! > 1 ? ending : {})]),
    ],
    techniques: ids.map((id, i) =>
      technique(id, {
        difficulty: 2 + (i % 3),
        state: inRun[i] ? 'in-run' : 'learning',
        needs: id === 'fan' ? ['cut'] : [],
      }),
    ),
  };
}

const digits = fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 8, maxLength: 8 });
const states = fc.array(fc.boolean(), { minLength: 6, maxLength: 6 });

/** One edit after the other: a number, a state, or a block more. */
const edits = fc.array(
  fc.oneof(
    fc.record({ number: fc.integer({ min: 0, max: 7 }), value: fc.integer({ min: 1, max: 20 }) }),
    fc.record({ state: fc.integer({ min: 0, max: 5 }) }),
    fc.record({ landed: fc.integer({ min: 0, max: 30 }), of: fc.constantFrom('arc', 'cut', 'dip', 'fan') }),
  ),
  { minLength: 1, maxLength: 5 },
);

test('after any edits a remembered ranking is the one worked out from nothing', () => {
  fc.assert(
    fc.property(digits, states, edits, fc.boolean(), (first, inRun, changes, all) => {
      const numbers = [...first];
      const used = [...inRun];
      const practice = [block('cut', 98, 12, 40), block('ebb', 99, 5, 40)];
      const cache = new ModelCache();
      const ask = () => ({
        route: routeOf(numbers, used),
        logs: { practice: [...practice], runs: [] },
        asOfDay: 100,
        options: { ...plainOptions, all },
      });
      rank(ask(), cache);
      for (const change of changes) {
        if ('number' in change) numbers[change.number] = change.value;
        else if ('state' in change) used[change.state] = !used[change.state];
        else practice.push(block(change.of, 99, change.landed, 30));
        expect(rank(ask(), cache)).toEqual(rank(ask()));
      }
    }),
    { seed: 20261126, numRuns: 10 },
  );
});
