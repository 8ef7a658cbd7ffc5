/** One runner's part of a pool, against sums written here. */
import { describe, expect, test } from 'vitest';
import { defaultConstants as usual } from '../../../../server/src/model/core/constants.ts';
import type { PracticeEntry, TechniqueModel } from '../../../../server/src/model/core/types.ts';
import { commonShares, midwayPlaces, perLog } from '../../../../server/src/model/pool/commonParts.ts';
import { contributionsOf } from '../../../../server/src/model/pool/contribution.ts';
import { prepareModel } from '../../../../server/src/model/run/preparedModel.ts';
import { learnerKinds } from '../../../../server/src/model/skill/learnerKinds.ts';
import { block, plainOptions, technique } from '../../../helpers/invented.ts';

function partsFrom(techniques: readonly TechniqueModel[], practice: readonly PracticeEntry[]) {
  const input = {
    route: { segments: [], techniques, restart: 0 },
    logs: { practice, runs: [] },
    asOfDay: 40,
    options: plainOptions,
  };
  return contributionsOf(prepareModel(input));
}

/** Values spread evenly over the band below an edge; the first edge is a single value. */
function inBand(edges: readonly number[], band: number): number[] {
  if (band === 0) return [edges[0]!];
  const [a, b] = [edges[band - 1]!, edges[band]!];
  return Array.from({ length: 12 }, (_, i) => a + ((b - a) * (i + 0.5)) / 12);
}

/**
 * The chance of one block's counts at a half-way point, averaged over suddenness, ceiling and floor: a direct sum over the
 * prior as it is described, every kind of learner as likely (beta-binomial days, by products).
 */
function chanceAt(midway: number, landed: number, tries: number, minutes: number): number {
  const dose = ((tries * usual.daySaturation) / minutes) * -Math.expm1(-minutes / usual.daySaturation);
  const level = Math.log(1 + dose / 2 / usual.unitPractice);
  let sum = 0;
  for (const { steepness, ceilings, floors } of learnerKinds(usual)) {
    for (const [s, sudden] of [...usual.steepness, null].entries()) {
      const x = level - midway;
      const learned = sudden === null ? 1 - 2 ** -Math.exp(x) : 1 / (1 + Math.exp(-sudden * x));
      for (const [c, ceilingWeight] of ceilings.entries()) {
        for (const [f, floorWeight] of floors.entries()) {
          const [tops, bottoms] = [inBand(usual.ceilings, c), inBand(usual.floors, f)];
          const weight = (steepness[s]! * ceilingWeight * floorWeight) / tops.length / bottoms.length / 3;
          for (const top of tops)
            for (const bottom of bottoms)
              sum += weight * chanceOfCount(bottom + (top - bottom) * learned, landed, tries);
        }
      }
    }
  }
  return sum;
}

function chanceOfCount(rate: number, landed: number, tries: number): number {
  const mean = Math.min(1 - usual.rateFloor, Math.max(usual.rateFloor, rate));
  const concentration = usual.concentration / (4 * mean * (1 - mean));
  let product = 1;
  for (let i = 0; i < landed; i++) product *= (mean * concentration + i) / (concentration + i);
  for (let i = 0; i < tries - landed; i++)
    product *= ((1 - mean) * concentration + i) / (concentration + landed + i);
  return product;
}

describe('one technique, one block: the numbers are the logarithms of direct sums', () => {
  test.each([
    { difficulty: 4, landed: 6, tries: 40 },
    { difficulty: 4, landed: 33, tries: 40 },
    { difficulty: 7, landed: 0, tries: 60 },
  ])('%o', ({ difficulty, landed, tries }) => {
    const part = partsFrom(
      [technique('kick', { difficulty })],
      [block('kick', 1, landed, tries, { minutes: 20 })],
    );
    const step = 0.05;
    const midways = Array.from({ length: 301 }, (_, i) => -5 + i * step);
    const chances = midways.map((midway) => chanceAt(midway, landed, tries, 20));
    const rated = usual.midwayAtEasiest + usual.midwayPerStep * (difficulty - 1);
    const at = (place: number, share: number): number => {
      // The runner's pace is not known: its variance is added to that of the runner's own difference.
      const sd = Math.sqrt((1 - share) * usual.midwaySd ** 2 + usual.offsetSd ** 2);
      const weights = midways.map((midway) => Math.exp(-0.5 * ((midway - rated - place) / sd) ** 2));
      const all = weights.reduce((a, b) => a + b, 0);
      return weights.reduce((sum, weight, i) => sum + weight * chances[i]!, 0) / all;
    };
    for (const { name, share } of commonShares) {
      midwayPlaces.forEach((place, i) => {
        const log = Math.min(8, Math.max(-8, Math.log(at(place, share) / at(0, 0))));
        const told = part.get('kick')!.midway[name][i]! / perLog;
        // Half a tenth by rounding, and the grid of the model has one ceiling and one floor a pair where this sum has twelve.
        expect(Math.abs(told - log)).toBeLessThan(0.1 + 0.05 * Math.abs(log));
      });
    }
  });
});

test('a technique that comes slowly speaks for later, one that comes at once for earlier', () => {
  const practice = [
    ...[1, 2, 3, 4].map((day) => block('slow', day, 1, 50, { minutes: 20, order: day })),
    ...[1, 2, 3, 4].map((day) => block('quick', day, 45, 50, { minutes: 20, order: day + 0.5 })),
    ...[1, 2, 3, 4].map((day) => block('usual', day, 20, 50, { minutes: 20, order: day + 0.7 })),
  ];
  const parts = partsFrom(
    ['slow', 'quick', 'usual'].map((id) => technique(id, { difficulty: 4 })),
    practice,
  );
  const best = (id: string): number => {
    const { half } = parts.get(id)!.midway;
    return midwayPlaces[half.indexOf(Math.max(...half))]!;
  };
  expect(best('slow')).toBeGreaterThan(1);
  expect(best('quick')).toBeLessThan(-1);
});

test('nothing is told of what was not practised, or was in the runs before the logs began', () => {
  const practice = [block('kick', 3, 10, 40, { minutes: 20 })];
  const runs = [{ technique: 'vault', day: 1, order: 1, counted: { landed: 8, tries: 10 } }];
  const prepared = prepareModel({
    route: { segments: [], techniques: ['kick', 'vault', 'dash'].map((id) => technique(id)), restart: 0 },
    logs: { practice, runs },
    asOfDay: 5,
    options: plainOptions,
  });
  expect([...contributionsOf(prepared).keys()]).toEqual(['kick']);
});

test('one runner moves a number by 8 logarithms at most, however much they practised', () => {
  const practice = Array.from({ length: 60 }, (_, day) =>
    block('kick', day, day < 50 ? 0 : 2000, 2000, { minutes: 30, order: day }),
  );
  const { midway } = partsFrom([technique('kick', { difficulty: 1 })], practice).get('kick')!;
  for (const { name } of commonShares)
    for (const value of midway[name]) expect(Math.abs(value)).toBeLessThanOrEqual(8 * perLog);
});
