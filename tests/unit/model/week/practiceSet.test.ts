import fc from 'fast-check';
import { expect, test } from 'vitest';
import { choosePracticeSet } from '../../../../server/src/model/week/practiceSet.ts';
import type { SetCandidate } from '../../../../server/src/model/week/practiceSet.ts';

function standing(technique: string, rate: number, more: Partial<SetCandidate> = {}): SetCandidate {
  return { technique, rate, competent: false, open: true, ...more };
}

function setOf(standings: readonly SetCandidate[], carried: readonly string[], size: number) {
  return choosePracticeSet({ candidates: standings, currentMembers: carried, size });
}

test('a first set is the best that can be practised', () => {
  const standings = [standing('a', 5), standing('b', 4, { open: false }), standing('c', 3), standing('d', 2)];
  expect(setOf(standings, [], 2)).toEqual({ members: ['a', 'c'], departures: [] });
});

test('what is not competent stays, whatever gains more outside', () => {
  const standings = [standing('new', 500), standing('old', 0.001)];
  expect(setOf(standings, ['old'], 1)).toEqual({ members: ['old'], departures: [] });
});

test('more members than places: all stay, nobody enters; those competent leave to nobody', () => {
  const standings = [standing('new', 9), standing('a', 1), standing('b', 2), standing('c', 3)];
  expect(setOf(standings, ['a', 'b', 'c'], 2)).toEqual({ members: ['a', 'b', 'c'], departures: [] });
  const competent = standings.map((row) => (row.technique === 'new' ? row : { ...row, competent: true }));
  expect(setOf(competent, ['a', 'b', 'c'], 2)).toEqual({
    members: ['c', 'new'],
    departures: [
      { technique: 'a', replacedBy: null },
      { technique: 'b', replacedBy: 'new' },
    ],
  });
});

test('what is competent takes a free place only for half as much again as each that could take it', () => {
  const known = standing('known', 3, { competent: true });
  expect(setOf([known, standing('new', 2)], [], 1).members).toEqual(['known']);
  expect(setOf([known, standing('new', 2.1)], [], 1).members).toEqual(['new']);
  // What cannot be practised, or is in the set already, could not take the place.
  const shut = standing('shut', 9, { open: false });
  expect(setOf([shut, standing('old', 9), known, standing('new', 2)], ['old'], 2).members).toEqual([
    'old',
    'known',
  ]);
});

test('what is competent takes the place of no other, and none that nobody else could take', () => {
  const known = standing('known', 9, { competent: true });
  expect(setOf([known, standing('old', 1)], ['old'], 1).members).toEqual(['old']);
  expect(setOf([known, standing('old', 1)], ['old'], 2).members).toEqual(['old']);
  expect(setOf([known, standing('new', 0)], [], 1).members).toEqual([]);
});

test('what is competent leaves for anything better, and stays while nothing is', () => {
  const better = [standing('new', 5), standing('old', 4.9, { competent: true })];
  expect(setOf(better, ['old'], 1).members).toEqual(['new']);
  const worse = [standing('old', 4.9, { competent: true }), standing('new', 4.8)];
  expect(setOf(worse, ['old'], 1).members).toEqual(['old']);
});

test('of several that are competent, the one that is worth least goes first', () => {
  const standings = [
    standing('new', 10),
    standing('x', 4, { competent: true }),
    standing('y', 3),
    standing('z', 3.5, { competent: true }),
  ];
  expect(setOf(standings, ['x', 'y', 'z'], 3).departures).toEqual([{ technique: 'z', replacedBy: 'new' }]);
});

test('what gains nothing takes no free place', () => {
  expect(setOf([standing('a', 5), standing('b', 0)], [], 3).members).toEqual(['a']);
});

test('what is carried over and no longer ranked or no longer open is dropped', () => {
  const standings = [standing('a', 5), standing('shut', 4, { open: false })];
  expect(setOf(standings, ['gone', 'shut'], 2).members).toEqual(['a']);
});

test('never more than the size unless more are being learned, no technique twice, only open ones, and settled after one go', () => {
  const anyStanding = fc.record({
    rate: fc.integer({ min: 0, max: 1_000_000 }).map((n) => 0 + ((10 - 0) * n) / 1_000_000),
    competent: fc.boolean(),
    open: fc.boolean(),
    carried: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(anyStanding, { maxLength: 9 }), fc.integer({ min: 0, max: 5 }), (list, size) => {
      const standings = list
        .map(({ rate, competent, open }, i) => ({ technique: `t${i}`, rate, competent, open }))
        .sort((a, b) => b.rate - a.rate);
      const carried = list.flatMap((entry, i) => (entry.carried ? [`t${i}`] : []));
      const { members } = setOf(standings, carried, size);
      const learned = standings.filter((s) => carried.includes(s.technique) && s.open && !s.competent);
      expect(learned.filter(({ technique }) => !members.includes(technique))).toEqual([]);
      expect(members.length).toBeLessThanOrEqual(Math.max(size, learned.length));
      expect(new Set(members).size).toBe(members.length);
      const open = new Set(standings.filter((s) => s.open).map((s) => s.technique));
      expect(members.every((m) => open.has(m))).toBe(true);
      expect(setOf(standings, members, size)).toEqual({ members, departures: [] });
    }),
  );
});
