import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { buildPoolDocument } from '../../../../server/src/files/documents/poolDocument.ts';
import { formatEdits } from '../../../../server/src/files/edit/formatEdits.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { addByRating } from '../../../../server/src/model/pool/addByRating.ts';
import type { PoolContribution } from '../../../../server/src/queries/poolContribution.ts';
import { asParts, contributionsOfTexts, partOfText, poolDay, poolTextOf } from '../../../helpers/pools.ts';
import { inventedBlocks, poolTechniques, practiceText } from '../../../helpers/poolRunners.ts';
import { findingsOf } from '../../rules/findingsOf.ts';
import { poolRouteText } from '../../../helpers/poolRunners.ts';

const seeds = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
let runners: PoolContribution[];
beforeAll(async () => {
  runners = await contributionsOfTexts(seeds.map((seed) => practiceText(inventedBlocks(seed))));
});

describe('the text of a pool', () => {
  test('reads back to what was written, without a problem', () => {
    const text = poolTextOf(asParts(runners));
    const reading = readSource('pool', text);
    expect(reading.problems).toEqual([]);
    const document = buildPoolDocument(reading);
    expect(document).toMatchObject({
      route: 'lanternfall.route.yaml',
      model: 1,
      day: { date: poolDay },
      repeatedRunners: [],
      runners: runners.map(({ digest }) => digest).sort(),
    });
    const { techniques } = addByRating(
      runners.map((one) => one.techniques),
      () => undefined,
    );
    expect(document.techniques.map(({ id }) => id)).toEqual(Object.keys(poolTechniques));
    for (const { id, path, ...numbers } of document.techniques) {
      expect(path).toEqual(['techniques', id]);
      expect(numbers).toEqual(techniques.get(id));
    }
  });

  test('has nothing that `check` finds, and is laid out as the formatter lays it out', async () => {
    const text = poolTextOf(asParts(runners));
    const findings = await findingsOf({
      'lanternfall.route.yaml': poolRouteText,
      'lanternfall.pool.yaml': text,
    });
    expect(findings.filter(({ uri }) => uri.endsWith('.pool.yaml'))).toEqual([]);
    expect(formatEdits(readSource('pool', text))).toEqual([]);
  });

  test('is the same for the same runners in any order', () => {
    const text = poolTextOf(asParts(runners));
    fc.assert(
      fc.property(fc.shuffledSubarray(runners, { minLength: runners.length }), (order) => {
        expect(poolTextOf(asParts(order))).toBe(text);
      }),
      { numRuns: 20 },
    );
  });

  test('says beside each technique how it is rated and what it comes like', () => {
    const text = poolTextOf(asParts(runners));
    for (const [id, difficulty] of Object.entries(poolTechniques))
      expect(text).toMatch(new RegExp(`^  ${id}: # rated ${difficulty}, comes like \\d+\\.\\d$`, 'm'));
    expect(text).toMatch(/^# What the practice of 10 runners says together/);
  });
});

describe('a pool of two groups of runners', () => {
  test('is the pools of both, put together: of every technique that both tell of, to the last digit', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(runners, { minLength: 6 }), fc.nat(), (some, chance) => {
        const at = 3 + (chance % (some.length - 5));
        const groups = [some.slice(0, at), some.slice(at)];
        const pools = groups.map((group, i) => partOfText(poolTextOf(asParts(group)), `${i}.pool.yaml`));
        const [a, b] = pools.map(({ techniques }) => new Set(techniques.keys()));
        const merged = partOfText(poolTextOf(pools));
        const whole = partOfText(poolTextOf(asParts(some)));
        expect([...merged.runners].sort()).toEqual([...whole.runners].sort());
        for (const id of merged.techniques.keys()) {
          if (!a!.has(id) || !b!.has(id)) continue;
          expect(merged.techniques.get(id)).toEqual(whole.techniques.get(id));
        }
        // What one group alone tells of is told by the whole, too, of more runners perhaps.
        for (const [id, { runners: count }] of merged.techniques)
          expect(whole.techniques.get(id)!.runners).toBeGreaterThanOrEqual(count);
        expect([...a!].some((id) => b!.has(id))).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test('does not depend on how they are put together', () => {
    const pools = [runners.slice(0, 3), runners.slice(3, 6), runners.slice(6)].map((group, i) =>
      partOfText(poolTextOf(asParts(group)), `${i}.pool.yaml`),
    );
    const [a, b, c] = pools;
    const once = poolTextOf([a!, b!, c!]);
    expect(poolTextOf([partOfText(poolTextOf([c!, a!])), b!])).toBe(once);
    expect(poolTextOf([a!, partOfText(poolTextOf([b!, c!]))])).toBe(once);
  });
});
