import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  countOnce,
  type CountedParts,
  type PoolPart,
  type RunnerPart,
} from '../../../../server/src/model/pool/countOnce.ts';
import { pooled, silent } from '../../../helpers/pooledNumbers.ts';

const techniques = new Map([['kick', pooled(silent(25), 1)]]);

/** A runner's logs in a folder that is called like them, or otherwise. */
function logs(digest: string, entries = 10, place = digest): RunnerPart {
  return { place, digest, entries, techniques };
}

function pool(place: string, runners: string, day = 1): PoolPart {
  return { place, runners: [...runners], day, techniques };
}

function counted(parts: readonly RunnerPart[], pools: readonly PoolPart[] = []): CountedParts {
  const answer = countOnce(parts, pools);
  if ('shared' in answer) throw new Error(`mixed: ${answer.places.join()}`);
  return answer;
}

const places = (parts: readonly { readonly place: string }[]): string[] => parts.map(({ place }) => place);

describe('runners', () => {
  test('of whom there are two copies count by the longer one', () => {
    const { runners, uncounted } = counted([logs('a', 10, 'old'), logs('b'), logs('a', 12, 'new')]);
    expect(places(runners)).toEqual(['new', 'b']);
    expect(uncounted).toEqual([{ place: 'old', why: 'same-logs', instead: 'new' }]);
  });

  test('who are in a pool count there', () => {
    const { runners, pools, uncounted } = counted([logs('a'), logs('z')], [pool('p', 'abc')]);
    expect(places(runners)).toEqual(['z']);
    expect(places(pools)).toEqual(['p']);
    expect(uncounted).toEqual([{ place: 'a', why: 'in-pool', instead: 'p' }]);
  });

  test('who are all here count by their logs, and their pool does not', () => {
    const { runners, pools, uncounted } = counted([logs('a'), logs('b'), logs('c')], [pool('p', 'cab')]);
    expect(places(runners)).toEqual(['a', 'b', 'c']);
    expect(pools).toEqual([]);
    expect(uncounted).toEqual([{ place: 'p', why: 'logs-here', instead: undefined }]);
  });
});

describe('pools', () => {
  test('of different runners all count', () => {
    expect(places(counted([], [pool('p', 'abc'), pool('q', 'def')]).pools)).toEqual(['p', 'q']);
  });

  test('of the same runners count once, by the later one', () => {
    const { pools, uncounted } = counted([], [pool('p', 'abc', 4), pool('q', 'cba', 5)]);
    expect(places(pools)).toEqual(['q']);
    expect(uncounted).toEqual([{ place: 'p', why: 'same-runners', instead: 'q' }]);
  });

  test('whose runners are all in another do not count', () => {
    const { pools, uncounted } = counted([], [pool('p', 'abc', 9), pool('q', 'abcd', 5)]);
    expect(places(pools)).toEqual(['q']);
    expect(uncounted).toEqual([{ place: 'p', why: 'within', instead: 'q' }]);
  });

  test('that share some of their runners cannot be told apart', () => {
    const mixed = countOnce([], [pool('p', 'abcd'), pool('q', 'cde')]);
    expect(mixed).toEqual({ places: ['p', 'q'], shared: 2 });
    // Unless the logs of one are here.
    const { runners, pools } = counted(
      [...'cde'].map((one) => logs(one)),
      [pool('p', 'abcd'), pool('q', 'cde')],
    );
    expect(places(pools)).toEqual(['p']);
    expect(places(runners)).toEqual(['e']);
  });
});

const anyRunner = fc.constantFrom(...'abcdefgh');
const anyPart = fc.record({ digest: anyRunner, entries: fc.nat({ max: 3 }) });
const anyPool = fc.record({
  runners: fc.uniqueArray(anyRunner, { minLength: 1, maxLength: 4 }),
  day: fc.nat({ max: 2 }),
});

test('nobody counts twice and nobody is lost, in any order', () => {
  fc.assert(
    fc.property(
      fc.array(anyPart, { maxLength: 6 }),
      fc.array(anyPool, { maxLength: 3 }),
      (someLogs, somePools) => {
        const parts = someLogs.map((one, at): RunnerPart => ({ ...one, place: `logs ${at}`, techniques }));
        const pools = somePools.map((one, at): PoolPart => ({ ...one, place: `pool ${at}`, techniques }));
        const answer = countOnce(parts, pools);
        expect(countOnce([...parts].reverse(), [...pools].reverse())).toEqual(answer);
        if ('shared' in answer) {
          const [a, b] = answer.places.map((place) => pools.find((one) => one.place === place)!.runners);
          const both = a!.filter((one) => b!.includes(one)).length;
          expect(answer.shared).toBe(both);
          expect(both).toBeGreaterThan(0);
          expect(both).toBeLessThan(Math.min(a!.length, b!.length));
          return;
        }
        const all = [
          ...answer.runners.map(({ digest }) => digest),
          ...answer.pools.flatMap(({ runners }) => runners),
        ];
        expect(new Set(all).size).toBe(all.length);
        const given = [...parts.map(({ digest }) => digest), ...pools.flatMap(({ runners }) => runners)];
        expect(new Set(all)).toEqual(new Set(given));
        expect(answer.uncounted.length).toBe(
          parts.length + pools.length - answer.runners.length - answer.pools.length,
        );
      },
    ),
  );
});
