import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ModelCache, rank } from '../../../../server/src/model/index.ts';
import type { RankInput, RankRow } from '../../../../server/src/model/index.ts';
import {
  quickerCycle,
  quickerRepeats,
  rankWithCycle,
} from '../../../../server/src/model/rank/cycleAlternative.ts';
import { isGamble, isSeldom } from '../../../../server/src/model/rank/gamble.ts';
import { isSettled, resetPreference } from '../../../../server/src/model/rank/resetPreference.ts';
import {
  block,
  largeCase,
  noLogs,
  plainOptions,
  route,
  segment,
  technique,
  use,
} from '../../../helpers/invented.ts';

const endsRun = { misses: [{ chance: 1, loses: 0, endsRun: true }] };

/** A route on which every second technique needs an easy one that saves little, with logs. */
const invented = fc
  .record({ count: fc.integer({ min: 4, max: 10 }), seed: fc.integer({ min: 1, max: 1e6 }) })
  .map(({ count, seed }): RankInput => {
    const { route: whole, logs } = largeCase(count, 3 * count, seed);
    const techniques = whole.techniques.map((one, i) =>
      i % 2 === 0
        ? { ...one, difficulty: 1 + (i % 3), needs: [], state: 'unlearned' as const }
        : { ...one, needs: [`t${i - 1}`], state: 'unlearned' as const },
    );
    const segments = whole.segments.map((one) => ({
      ...one,
      uses: one.uses.map((of) =>
        Number(of.technique.slice(1)) % 2 === 0 ? { ...of, saves: { mean: 0.3, sd: 0 } } : of,
      ),
    }));
    return { route: { ...whole, techniques, segments }, logs, asOfDay: 61, options: plainOptions };
  });

/** The rows as they are shown: each package once, in place of its members. */
function shownGains(rows: readonly RankRow[]): number[] {
  const seen = new Set<string>();
  return rows.flatMap((row) => {
    const key = row.package === null ? row.technique : row.package.members.join(' ');
    if (seen.has(key)) return [];
    seen.add(key);
    return [row.package === null ? row.gainPerHour : row.package.gainPerHour];
  });
}

test('no row and no package stands above one that gains more', () => {
  let packages = 0;
  fc.assert(
    fc.property(invented, (input) => {
      const { rows } = rank({ ...input, options: { ...input.options, all: true } });
      // Rows in no set gain nothing worth their hours and come last.
      const gains = shownGains(rows);
      packages += rows.filter((row) => row.package !== null).length;
      gains.slice(1).forEach((gain, i) => expect(gain).toBeLessThanOrEqual(gains[i]! * (1 + 1e-9) + 1e-9));
    }),
    { numRuns: 45, seed: 45 },
  );
  expect(packages).toBeGreaterThan(20);
});

test('the members of a package follow one another, and its gain is that of their practice', () => {
  fc.assert(
    fc.property(invented, (input) => {
      const { rows } = rank(input);
      rows.forEach((row, i) => {
        if (row.package === null) return;
        const { members, further, blocks, hours, gainPerHour } = row.package;
        const first = rows.findIndex(({ technique: id }) => id === members[0]);
        expect(rows.slice(first, first + members.length).map(({ technique: id }) => id)).toEqual(members);
        expect(members).toContain(row.technique);
        expect([...row.opensWith].sort()).toEqual(members.filter((id) => id !== row.technique).sort());
        const own = rows.slice(first, first + members.length);
        const planned = own.reduce((sum, member) => sum + member.blocks, 0);
        expect(hours).toBeCloseTo((blocks * row.blockMinutes) / 60, 9);
        if (further.length > 0) expect(blocks).toBeGreaterThan(planned);
        else {
          expect(blocks).toBe(planned);
          expect(gainPerHour).toBeCloseTo(own.reduce((sum, { gain }) => sum + gain, 0) / hours, 6);
        }
        expect(i).toBeGreaterThanOrEqual(first);
      });
    }),
    { numRuns: 20 },
  );
});

test('a gamble is practice worth its hours that is more likely than not to stay below break-even', () => {
  const row = { gain: 1, breakEven: 0.5, chanceCompetent: 0.3 };
  expect(isGamble(row)).toBe(true);
  expect(isGamble({ ...row, chanceCompetent: 0.5 })).toBe(false);
  expect(isGamble({ ...row, gain: 0 })).toBe(false);
  expect(isGamble({ ...row, breakEven: null })).toBe(false);
});

test('the reason calls a gamble what it is, and only that', () => {
  fc.assert(
    fc.property(invented, (input) => {
      for (const row of rank(input).rows) {
        const little = row.reason.startsWith('More practice is expected to change little');
        expect(row.reason.includes('a gamble:')).toBe(isGamble(row) && !little);
        if (little) expect(row.gain).toBeLessThan(0.005);
      }
    }),
    { numRuns: 10 },
  );
});

/** Two techniques, of which one was practised at the same rate for days. */
function practisedAt(landed: number, days: number): RankInput {
  const practice = Array.from({ length: days }, (_, day) => block('kick', day, landed, 40, { minutes: 20 }));
  return {
    route: route(
      [segment('start', 100, [use('kick', 3, 1)]), segment('end', 100, [use('hop', 4, 3)])],
      [technique('kick', { difficulty: 6 }), technique('hop', { difficulty: 4 })],
    ),
    logs: { practice, runs: [] },
    asOfDay: days + 1,
    options: { ...plainOptions, all: true },
  };
}

test('a gain that would be written as nothing is told as little change', () => {
  const found = rank(practisedAt(34, 8)).rows.find(({ technique: id }) => id === 'kick')!;
  expect(found.gain).toBeGreaterThan(0);
  expect(found.gain).toBeLessThan(0.005);
  expect(found.reason).toBe('More practice is expected to change little: it lands 77 % in runs now.');
});

test('a mean above its 80 % range is one that a seldom, large gain carries, and no other', () => {
  const kick = (landed: number, days: number): RankRow =>
    rank(practisedAt(landed, days)).rows.find(({ technique: id }) => id === 'kick')!;
  expect(isSeldom(kick(34, 8))).toBe(true);
  expect(isSeldom(kick(6, 2))).toBe(false);
  expect(isSeldom({ gainPerHour: 0, high: 0 })).toBe(false);
});

/** A route on which a technique saves much and ends the run where it is missed, beside others that only lose time. */
const risky: RankInput = {
  route: route(
    [
      segment('start', 100, [use('kick', 3, 1)]),
      segment('middle', 900, [use('hop', 4, 3)]),
      segment('end', 900, [use('leap', 40, 0, endsRun), use('dive', 30, 0, endsRun)]),
    ],
    ['kick', 'hop', 'leap', 'dive'].map((id, i) => technique(id, { difficulty: 3 + i })),
  ),
  logs: noLogs,
  asOfDay: 5,
  options: plainOptions,
};

test('a break-even that rests on the worth of a second lost to resets carries it', () => {
  const { rows } = rank({ ...risky, constants: { clockWeight: 0.02 } });
  const weights = Object.fromEntries(rows.map((row) => [row.technique, row.resetWeight]));
  expect(weights).toEqual({ kick: null, hop: null, leap: 0.02, dive: 0.02 });
  for (const { reason, resetWeight } of rows)
    expect(reason.includes('with a second lost to resets counted as 0.02 s')).toBe(resetWeight !== null);
});

test('the first places at other weights are those of a ranking with that constant', () => {
  const inputs: RankInput[] = [
    risky,
    { ...risky, constants: { clockWeight: 0.3 } },
    ...[3, 8, 21].map((seed): RankInput => {
      const { route: whole, logs } = largeCase(12, 40, seed);
      const segments = whole.segments.map((one) => ({
        ...one,
        uses: one.uses.map((of, i) => (i === 0 ? { ...of, ...endsRun } : of)),
      }));
      return { route: { ...whole, segments }, logs, asOfDay: 61, options: plainOptions };
    }),
  ];
  for (const input of inputs) {
    const cache = new ModelCache();
    const before = rank(input, cache);
    const found = resetPreference(input, cache)!;
    for (const { clockWeight, first } of [found.now, found.quarter, found.fourTimes]) {
      const { rows } = rank({ ...input, constants: { ...input.constants, clockWeight } });
      expect(first).toEqual(rows.slice(0, 3).map((row) => row.technique));
    }
    expect(found.quarter.clockWeight).toBeCloseTo(found.now.clockWeight / 4, 12);
    // The cache of the ranking is not disturbed.
    expect(rank(input, cache)).toEqual(before);
  }
});

test('the first places can change with the worth of a second lost to resets', () => {
  const changes = [0.005, 0.02, 0.1, 0.2].map((clockWeight) =>
    isSettled(resetPreference({ ...risky, constants: { clockWeight } })!),
  );
  expect(changes).toContain(false);
  expect(resetPreference({ ...risky, route: route([segment('a', 9, [use('kick', 3, 1)])], [technique('kick')]) })).toBeNull(); // prettier-ignore
});

test('a quicker repeat is never shorter than the attempt, and only for a long cycle', () => {
  const at = (attemptSeconds: number, reloadSeconds: number) =>
    quickerCycle(technique('kick', { attemptSeconds, reloadSeconds }));
  expect(at(5, 15)).toBe(10);
  expect(at(12, 8)).toBe(12);
  expect(at(20, 0)).toBeNull();
  expect(at(19, 1)).toBeNull();
  expect(at(5, 9)).toBeNull();
  expect(at(5, 10)).toBe(7.5);
});

test('the quicker repeats are those that bring a technique into the first three places, and no others', () => {
  let count = 0;
  for (const seed of [1, 5, 6]) {
    const { route: whole, logs } = largeCase(10, 20, seed);
    const techniques = whole.techniques.map((one, i) =>
      i % 2 === 0 ? { ...one, attemptSeconds: 4, reloadSeconds: 20 } : one,
    );
    const input: RankInput = {
      route: { ...whole, techniques },
      logs,
      asOfDay: 61,
      options: { ...plainOptions, all: true },
    };
    const now = rank(input);
    const expected = now.rows.slice(3).flatMap((row) => {
      const seconds = quickerCycle(techniques.find(({ id }) => id === row.technique)!);
      const found = seconds === null ? undefined : rankWithCycle(input, now, row.technique, seconds);
      return found?.then && found.then.place <= 3 ? [row.technique] : [];
    });
    const found = quickerRepeats(input, now);
    expect(found.map((one) => one.technique).sort()).toEqual(expected.sort());
    for (const one of found) expect(one.now!.place).toBeGreaterThan(3);
    count += found.length;
  }
  expect(count).toBeGreaterThan(0);
});
