import { describe, expect, it, test } from 'vitest';
import { defaultConstants as usual } from '../../../server/src/model/core/constants.ts';
import { othersSummary } from '../../../server/src/model/pool/othersSummary.ts';
import { rank } from '../../../server/src/model/index.ts';
import { othersBasis, othersSentence, type OthersFacts } from '../../../server/src/reports/othersText.ts';
import { plainOptions, route, segment, technique, use } from '../../helpers/invented.ts';

const facts: OthersFacts = { runners: 12, comesLike: 6.1, attemptsToHalf: 480, rated: 4, minutesToHalf: 41 };
const word = (mean: number, sd = 0.5) => ({
  runners: 12,
  midway: { mean, sd },
  commonSd: 0.2,
  loss: { mean: 0, sd: usual.ownPressureSd },
  shape: { suddenness: [], ceiling: [], floor: [] },
});

describe('what other runners found out', () => {
  it('is told in two sentences', () => {
    expect(othersSentence(facts)).toBe(
      'From 12 other runners: a usual runner lands half of the tries in practice after about 40 min. Rated 4, it comes like 6.1.',
    );
    expect(othersSentence({ ...facts, runners: 1, comesLike: 4.3, minutesToHalf: 250 })).toBe(
      'From 1 other runner: a usual runner lands half of the tries in practice after about 4.2 h. It comes as it is rated: 4.',
    );
    expect(othersSentence({ ...facts, minutesToHalf: null })).toMatch(/most never land half/);
    expect(othersSentence({ ...facts, minutesToHalf: 0 })).toMatch(/after about 1 min\./);
  });

  it('is counted where an answer says what it rests on', () => {
    const told = [
      technique('kick', { others: word(0) }),
      technique('vault', { others: { ...word(0), runners: 5 } }),
    ];
    const input = { route: route([segment('a', 60, [])], [...told, technique('dash')]) };
    expect(othersBasis(input)).toBe(
      'For 2 techniques it counts what the pool says of the practice of up to 12 other runners.',
    );
    expect(othersBasis({ route: route([segment('a', 60, [])], [technique('dash')]) })).toBeUndefined();
  });
});

test('attempts until half of the runners land half: as told to people who rate difficulty', () => {
  // At steepness 0.9 half of the tries land at the half-way point: c = 0.3 + 0.55·(d − 1), E = 10·(e^c − 1). Averaged over
  // ceilings and floors it takes a little more.
  const attempts = othersSummary(5, word(0), usual).attemptsToHalf!;
  const atHalfWay = usual.unitPractice * Math.expm1(usual.midwayAtEasiest + 4 * usual.midwayPerStep);
  expect(attempts).toBeGreaterThan(atHalfWay);
  expect(attempts).toBeLessThan(2.2 * atHalfWay);
  expect(othersSummary(5, word(1), usual).attemptsToHalf!).toBeGreaterThan(2 * attempts);
  expect(othersSummary(5, word(-1), usual).attemptsToHalf!).toBeLessThan(attempts / 2);
  // More practice than anybody does.
  expect(othersSummary(5, word(8), usual).attemptsToHalf).toBeNull();
});

test('a newcomer is told narrower ranges where others have practised', () => {
  const rowOf = (others?: ReturnType<typeof word>) =>
    rank({
      route: route([segment('a', 60, [use('kick', 3, 1)])], [technique('kick', { difficulty: 5, others })]),
      logs: { practice: [], runs: [] },
      asOfDay: 1,
      options: plainOptions,
    }).rows[0]!;
  const [alone, pooled] = [rowOf(), rowOf(word(0, 0.4))];
  expect(pooled.otherRunners).toBe(12);
  expect(alone).not.toHaveProperty('otherRunners');
  expect(pooled.runThen.high - pooled.runThen.low).toBeLessThan(alone.runThen.high - alone.runThen.low);
  // What comes later to others gains less for an hour.
  expect(rowOf(word(1.5, 0.4)).gainPerHour).toBeLessThan(pooled.gainPerHour);
});
