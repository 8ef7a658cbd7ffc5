import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addByRating } from '../../../../server/src/model/pool/addByRating.ts';
import { combine } from '../../../../server/src/model/pool/addUp.ts';
import type { PooledTechnique } from '../../../../server/src/model/pool/pooledTechnique.ts';
import { numbers, pooled } from '../../../helpers/pooledNumbers.ts';

/** One runner's part: a few techniques with whole numbers. Some were never tried in runs, so nothing is told of their loss. */
const part = fc
  .dictionary(
    fc.constantFrom('kick', 'vault', 'dash', 'clip'),
    fc.record({
      places: fc.array(fc.integer({ min: -80, max: 80 }), { minLength: 25, maxLength: 25 }),
      loss: fc.option(fc.array(fc.integer({ min: -80, max: 80 }), { minLength: 13, maxLength: 13 })),
    }),
  )
  .map(
    (techniques) =>
      new Map(
        Object.entries(techniques).map(([id, { places, loss }]): [string, PooledTechnique] => [
          id,
          {
            ...pooled(
              numbers(() => places),
              1,
            ),
            ...(loss !== null && { loss: numbers(() => loss) }),
          },
        ]),
      ),
  );

const sumOf = (
  parts: readonly ReadonlyMap<string, PooledTechnique>[],
): ReadonlyMap<string, PooledTechnique> => addByRating(parts, () => undefined).techniques;

test('the order of the runners changes nothing, nor does adding up in two heaps', () => {
  fc.assert(
    fc.property(fc.array(part, { maxLength: 8 }), fc.nat({ max: 8 }), (parts, at) => {
      const all = sumOf(parts);
      expect(sumOf([...parts].reverse())).toEqual(all);
      expect(sumOf([sumOf(parts.slice(0, at)), sumOf(parts.slice(at))])).toEqual(all);
    }),
  );
});

test('what was added can be taken out again', () => {
  fc.assert(
    fc.property(part, part, (a, b) => {
      const all = sumOf([a, b]);
      for (const [id, mine] of b) {
        const before = a.get(id);
        const left = combine(all.get(id)!, mine, -1);
        expect(left.runners).toBe(before?.runners ?? 0);
        if (before === undefined) continue;
        expect(left.midway).toEqual(before.midway);
        if (before.loss !== undefined) expect(left.loss).toEqual(before.loss);
      }
    }),
  );
});
